/** The picture of a ticket and the trend of the page draw a gas alike: slot, dash, and what may stand together. */
import { describe, expect, test } from 'vitest';
import { drawable, strokeOf } from '../../../server/ticket/strokes.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import * as page from '../../../web/charts/strokes.ts';

const IDS = GASES.map(({ id }) => id);
/** Of the page's slots, the names of the picture's colours. */
const slotColours = new Map(
  ['H2', 'H2O', 'CO', 'N2', 'O2', 'Ar', 'CO2', 'hydrocarbon-oil'].map((gas) => [
    page.strokeOf(gas).slot,
    strokeOf(gas).colour,
  ]),
);

test.each(IDS)('%s has the same slot and dash in the picture and on the page', (gas) => {
  const [here, there] = [strokeOf(gas), page.strokeOf(gas)];
  expect(here.dash).toBe(there.dash);
  expect(here.colour).toBe(slotColours.get(there.slot));
});

describe('what may stand together', () => {
  test('eight colours, each once, whatever is asked for', () => {
    expect(new Set(slotColours.values()).size).toBe(8);
    const drawn = drawable(IDS);
    expect(drawn).toEqual(page.drawable(IDS));
    expect(drawn.length).toBeLessThanOrEqual(8);
    expect(new Set(drawn.map((gas) => strokeOf(gas).colour)).size).toBe(drawn.length);
  });
});
