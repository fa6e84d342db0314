import type { ReactNode } from 'react';
import { Gate } from '../frame/Brand.tsx';
import { Sentence } from '../frame/Sentence.tsx';

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
      <p>
        Follow the site’s procedures and codes, and leave it to licensed staff. Ullage never opens or closes anything,
        and no interlock is to be bypassed.
      </p>
    </div>
  );
}

/** Before a person lets gas in so that its scans can be marked. */
export function GasCaution({ own }: { readonly own: readonly string[] }) {
  return (
    <Caution title="Letting gas into a chamber" own={own}>
      <li>The gas may be toxic, corrosive or pyrophoric, or push out the oxygen of the room.</li>
      <li>A bottle and its regulator hold stored gas: a chamber or a bellows can be over-pressured.</li>
      <li>Analyser, gauges and pumps carry high voltage and are hot; too much gas ends a filament.</li>
    </Caution>
  );
}

/** Before a person closes a valve so that the analyser sees only itself. */
export function ValveCaution({ own }: { readonly own: readonly string[] }) {
  return (
    <Caution title="Closing a valve between chamber and analyser" own={own}>
      <li>What was pumped through it is not pumped now: gas can gather, and pressure can rise behind it.</li>
      <li>Residues may be toxic or pyrophoric once they are warmed or vented.</li>
      <li>Analyser, gauges and pumps carry high voltage and are hot.</li>
    </Caution>
  );
}
