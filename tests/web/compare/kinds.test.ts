import { expect, test } from 'vitest';
import { withSisters } from '../../../web/compare/kinds.ts';
import { line } from '../fixture/lines.ts';

test('one chamber of each kind and state that has another one, those with most first', () => {
  const at = (name: string, kind: string | null, state: 'base' | 'bake' | null = 'base') =>
    line(0, { name, kind, state });
  const found = withSisters([
    at('A', 'etch'),
    at('B', 'store'),
    at('C', 'etch', 'bake'),
    at('D', 'store'),
    at('E', 'etch'),
    at('F', 'store'),
    at('G', null),
    at('H', null),
    at('I', 'lone'),
    at('J', 'dark', null),
    at('K', 'dark', null),
  ]);
  expect(found).toEqual([
    { id: 'b', name: 'B', kind: 'store', state: 'base', sisters: 2 },
    { id: 'a', name: 'A', kind: 'etch', state: 'base', sisters: 1 },
  ]);
});
