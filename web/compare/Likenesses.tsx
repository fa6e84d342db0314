import type { BeforeAfter, ComparedSide } from '../../shared/contract/beforeAfter.ts';
import { duration } from '../notation/age.ts';
import { count } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { words as compared } from '../strings/compare.ts';
import { words } from '../strings/compareBefore.ts';
import { degrees } from './beforeWords.ts';

type Name = BeforeAfter['likeness'][number]['name'];

/** Vents are told in hours as long as a person counts them so. */
const HOURS_TO = 120;
const sinceText = (seconds: number): string =>
  seconds >= 3600 && seconds < HOURS_TO * 3600 ? `${Math.round(seconds / 3600)}${NBSP}h` : duration(seconds);

const since = ({ sinceVent }: ComparedSide): string => {
  if (sinceVent === null) return words.sinceUnknown;
  const time = sinceText(sinceVent.seconds);
  return sinceVent.atLeast ? words.sinceAtLeast(time) : time;
};

/** Calibration, catalogue and detector, as they differ or not. */
const measure = (side: ComparedSide): string => side.calibrations.join('; ');

function textOf(name: Name, is: BeforeAfter['likeness'][number]['is'], { before, after }: BeforeAfter): string {
  const pair = (told: (side: ComparedSide) => string) => words.pairOf(told(before), told(after));
  switch (name) {
    case 'state':
      return pair(({ state }) => state ?? compared.noState);
    case 'time since vent':
      return pair(since);
    case 'temperature':
      return before.temperatureC === null && after.temperatureC === null
        ? words.notReported
        : pair(({ temperatureC }) => degrees(temperatureC));
    case 'analyser and calibration':
      return is === 'alike' ? words.sameMeasure(measure(before)) : pair((side) => measure(side) || side.analyser);
    default:
      return pair(({ scans }) => count(scans));
  }
}

/** The five things that change a residual gas without anything being repaired: before, after. */
export function Likenesses({ answer }: { readonly answer: BeforeAfter }) {
  return (
    <dl className="like">
      {answer.likeness.map(({ name, is }) => (
        <div key={name} className={is === 'differs' ? 'unlike' : undefined}>
          <dt>
            {words.like[name]}
            {is === 'differs' ? <b> {words.differs}</b> : null}
          </dt>
          <dd>{textOf(name, is, answer)}</dd>
        </div>
      ))}
    </dl>
  );
}
