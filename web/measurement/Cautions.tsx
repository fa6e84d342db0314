import type { ReactNode } from 'react';
import { Gate } from '../frame/Brand.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { words as all } from '../strings/calibration.ts';

const said = all.cautions;

interface CautionProps {
  readonly title: string;
  /** What the server says of it; without that, our own words. */
  readonly own: readonly string[];
  readonly children: ReactNode;
}

function Caution({ title, own, children }: CautionProps) {
  return (
    <div className="caution">
      <Gate />
      <b>{title}</b>
      <ul>
        {own.length > 0
          ? own.map((text) => (
              <li key={text}>
                <Sentence text={text} />
              </li>
            ))
          : children}
      </ul>
      <p>{said.followTheSiteS}</p>
    </div>
  );
}

/** Before a person lets gas in so that its scans can be marked. */
export function GasCaution({ own }: { readonly own: readonly string[] }) {
  return (
    <Caution title={said.lettingGasIntoA} own={own}>
      <li>{said.theGasMayBe}</li>
      <li>{said.aBottleAndIts}</li>
      <li>{said.analyserGaugesAndPumps}</li>
    </Caution>
  );
}

/** Before a person closes a valve so that the analyser sees only itself. */
export function ValveCaution({ own }: { readonly own: readonly string[] }) {
  return (
    <Caution title={said.closingAValveBetween} own={own}>
      <li>{said.whatWasPumpedThrough}</li>
      <li>{said.residuesMayBeToxic}</li>
      <li>{said.analyserGaugesAndPumpsCarry}</li>
    </Caution>
  );
}
