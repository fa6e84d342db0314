import { Link } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import { query } from '../api/ask.ts';
import { words } from '../strings/compare.ts';
import { withSisters } from './kinds.ts';

/** As many as can be read at once. */
const OFFERED = 6;

/** Nothing to set the chamber against: what a sister is, how a chamber gets some, and which chambers have them. */
export function NoSisters({ chambers, least }: { readonly chambers: readonly RoundLine[]; readonly least: number }) {
  const found = withSisters(chambers).slice(0, OFFERED);
  return (
    <>
      <h2>{words.whatSister}</h2>
      <p className="say beneath">{words.sisterIs}</p>
      <p className="say beneath">
        {words.sisterHow(least)} <Link href="/fleet">{words.toFleet}</Link>
      </p>
      {found.length === 0 ? (
        <p className="note">{words.noneHasSisters}</p>
      ) : (
        <>
          <h3>{words.haveSisters}</h3>
          <ul className="plain-list">
            {found.map(({ id, name, kind, state, sisters }) => (
              <li key={id}>
                <Link href={`/compare${query({ mode: 'sisters', chamber: id })}`}>{name}</Link>{' '}
                <span className="note">{words.amongIn(sisters, kind, state)}</span>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}
