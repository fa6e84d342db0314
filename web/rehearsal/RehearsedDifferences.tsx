import type { Rehearsal, RehearsedAlert } from '../../shared/contract/rehearsal.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD } from '../notation/words.ts';
import { words as all } from '../strings/rehearsal.ts';
import { alertTitle } from './words.ts';

const words = all.rehearsedDifferences;

type Kind = 'gained' | 'lost' | 'moved';
const WORD: Readonly<Record<Kind, string>> = { gained: 'more', lost: 'gone', moved: 'moved' };

interface Difference {
  readonly key: string;
  readonly kind: Kind;
  readonly chamber: string;
  readonly asIs: RehearsedAlert | null;
  readonly asChanged: RehearsedAlert | null;
}

/** Every alert that would be another, in order of time. */
export function differencesOf({ chambers }: Rehearsal): readonly Difference[] {
  const list = chambers.flatMap(({ chamber, gained, lost, moved }): Omit<Difference, 'key'>[] => [
    ...gained.map((asChanged) => ({ kind: 'gained' as const, chamber, asIs: null, asChanged })),
    ...lost.map((asIs) => ({ kind: 'lost' as const, chamber, asIs, asChanged: null })),
    ...moved.map(({ asIs, asChanged }) => ({ kind: 'moved' as const, chamber, asIs, asChanged })),
  ]);
  const at = ({ asIs, asChanged }: Omit<Difference, 'key'>) => Date.parse((asIs ?? asChanged)?.raisedAt ?? '');
  return list.sort((a, b) => at(a) - at(b)).map((one, i) => ({ ...one, key: `${i} ${one.chamber} ${one.kind}` }));
}

interface RehearsedDifferencesProps {
  readonly rehearsal: Rehearsal;
  readonly nameOf: (chamber: string) => string;
}

export function RehearsedDifferences({ rehearsal, nameOf }: RehearsedDifferencesProps) {
  const list = differencesOf(rehearsal);
  if (list.length === 0) return null;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys
    <section className="trend-table" aria-label={words.whatWouldBeAnother} tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.what}</th>
            <th scope="col">{words.alert}</th>
            <th scope="col">{words.asItIs}</th>
            <th scope="col">{words.withTheChange}</th>
          </tr>
        </thead>
        <tbody>
          {list.map(({ key, kind, chamber, asIs, asChanged }) => (
            <tr key={key}>
              <th scope="row">{WORD[kind]}</th>
              <td>
                {alertTitle((asChanged ?? asIs) as RehearsedAlert)} <span className="note">{nameOf(chamber)}</span>
              </td>
              <td>
                <Raised alert={asIs} />
              </td>
              <td>
                <Raised alert={asChanged} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Raised({ alert }: { readonly alert: RehearsedAlert | null }) {
  const zone = useZone();
  if (alert === null) return <span className="ink3">{words.notRaised}</span>;
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  return (
    <>
      {PRIORITY_WORD[alert.priority]}, {at(alert.raisedAt)}
      <span className="note">{alert.returnedAt === null ? words.stillStands : words.to(at(alert.returnedAt))}</span>
    </>
  );
}
