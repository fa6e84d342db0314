import type { FleetChange } from '../../shared/contract/fleet.ts';
import { several } from '../notation/sentence.ts';

type Kind = 'added' | 'changed' | 'retired';
const KINDS: readonly Kind[] = ['added', 'changed', 'retired'];
const WORD: Readonly<Record<'areas' | 'chambers' | 'analysers', string>> = {
  areas: 'area',
  chambers: 'chamber',
  analysers: 'analyser',
};

const isEmpty = (change: FleetChange): boolean =>
  KINDS.every((kind) => Object.values(change[kind]).every((ids) => ids.length === 0));

/** Beyond this many ids a list is counted, not written. */
const MOST_IDS = 40;

/** What a document changes, or would change. */
export function ChangeList({ change }: { readonly change: FleetChange }) {
  if (isEmpty(change)) {
    return (
      <p className="say" role="status">
        {change.applied ? 'Applied.' : 'This document changes nothing: the fleet already is like this.'}
      </p>
    );
  }
  return (
    <div role="status">
      <p className="say">{change.applied ? 'Applied:' : 'It would change this:'}</p>
      <table>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">How many</th>
            <th scope="col">Which</th>
          </tr>
        </thead>
        <tbody>
          {KINDS.flatMap((kind) =>
            (Object.keys(WORD) as (keyof typeof WORD)[]).map((what) => {
              const ids = change[kind][what];
              if (ids.length === 0) return null;
              return (
                <tr key={`${kind} ${what}`}>
                  <th scope="row">{kind}</th>
                  <td>{several(ids.length, WORD[what])}</td>
                  <td className="code ids">
                    {ids.slice(0, MOST_IDS).join(', ')}
                    {ids.length > MOST_IDS ? ` and ${ids.length - MOST_IDS} more` : ''}
                  </td>
                </tr>
              );
            }),
          )}
        </tbody>
      </table>
      {change.retired.chambers.length > 0 ? (
        <p className="note">What is retired keeps its history and is no longer watched; it is never deleted.</p>
      ) : null}
    </div>
  );
}
