import type { RoundLine } from '../../shared/contract/round.ts';

/** A chamber whose kind has others in the state in which it is now. */
export interface WithSisters {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  readonly state: string;
  readonly sisters: number;
}

/** One chamber of each kind and state in which more than one is, those with most sisters first. */
export function withSisters(chambers: readonly RoundLine[]): WithSisters[] {
  const groups = new Map<string, RoundLine[]>();
  for (const line of chambers) {
    if (line.kind === null || line.state === null) continue;
    const key = JSON.stringify([line.kind, line.state]);
    groups.set(key, [...(groups.get(key) ?? []), line]);
  }
  return [...groups.values()]
    .flatMap(([first, ...others]) =>
      first && first.kind !== null && first.state !== null && others.length > 0
        ? [{ id: first.id, name: first.name, kind: first.kind, state: first.state, sisters: others.length }]
        : [],
    )
    .sort((a, b) => b.sisters - a.sisters);
}
