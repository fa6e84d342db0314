import type { FleetChange } from '../../shared/contract/fleet.ts';
import { words } from '../strings/fleet.ts';

type Kind = 'added' | 'changed' | 'retired';
const KINDS: readonly Kind[] = ['added', 'changed', 'retired'];
const PARTS = ['areas', 'chambers', 'analysers'] as const;

const isEmpty = (change: FleetChange): boolean =>
  KINDS.every((kind) => Object.values(change[kind]).every((ids) => ids.length === 0));

/** Beyond this many ids a list is counted, not written. */
const MOST_IDS = 40;

function listOf(ids: readonly string[]): string {
  const written = ids.slice(0, MOST_IDS).join(', ');
  return ids.length > MOST_IDS ? words.andMore(written, ids.length - MOST_IDS) : written;
}

/** What a document changes, or would change. */
export function ChangeList({ change }: { readonly change: FleetChange }) {
  if (isEmpty(change)) {
    return (
      <p className="say" role="status">
        {change.applied ? words.applied : words.changesNothing}
      </p>
    );
  }
  return (
    <div role="status">
      <p className="say">{change.applied ? words.appliedThis : words.wouldChange}</p>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.what}</th>
            <th scope="col">{words.howMany}</th>
            <th scope="col">{words.which}</th>
          </tr>
        </thead>
        <tbody>
          {KINDS.flatMap((kind) =>
            PARTS.map((what) => {
              const ids = change[kind][what];
              if (ids.length === 0) return null;
              return (
                <tr key={`${kind} ${what}`}>
                  <th scope="row">{words.kinds[kind]}</th>
                  <td>{words.counted[what](ids.length)}</td>
                  <td className="code ids">{listOf(ids)}</td>
                </tr>
              );
            }),
          )}
        </tbody>
      </table>
      {change.retired.chambers.length > 0 ? <p className="note">{words.retiredKeep}</p> : null}
    </div>
  );
}
