import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TicketFacts } from '../../../server/ticket/facts.ts';
import { type Scales, scalesOf } from '../../../server/ticket/paper.ts';
import { drawStaffs } from '../../../server/ticket/pictureStaffs.ts';

const FROM = Date.parse('2026-03-02T00:00:00Z');
const TO = Date.parse('2026-03-02T12:00:00Z');
const PLOT = { left: 84, right: 890, top: 150, bottom: 480 };

type Raised = Pick<TicketFacts['alerts'][number], 'priority' | 'state' | 'signature' | 'raisedAt'>;
const at = (share: number): string => new Date(FROM + share * (TO - FROM)).toISOString();
const alert = (share: number, priority: Raised['priority'] = 'high', state: Raised['state'] = 'unacknowledged') =>
  ({ priority, state, signature: 'air-leak', raisedAt: at(share) }) as Raised;
const note = (share: number, text: string, withdrawnAt: string | null = null) => ({
  ...{ id: text, chamber: 'a', at: at(share), text, madeAt: at(share), madeBy: 'ada' },
  ...{ withdrawnAt, withdrawnBy: withdrawnAt === null ? null : 'ben' },
});
const facts = (alerts: readonly Raised[], notes: readonly ReturnType<typeof note>[]): TicketFacts =>
  ({
    chamber: { timeZone: 'UTC' },
    span: { from: new Date(FROM), to: new Date(TO) },
    alerts,
    notes,
  }) as unknown as TicketFacts;
const draw = (one: TicketFacts): string => drawStaffs(one, scalesOf(one, PLOT, [-9, -6]) as Scales);

interface Words {
  readonly row: number;
  readonly left: number;
  readonly right: number;
  readonly pole: number;
}
/** A letter of 11.5 px is 5.5 px wide on average, in any of the fonts that the file names. */
const LETTER = 5.5;
const wordsIn = (svg: string): Words[] =>
  [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)" font-size="11.5" text-anchor="(start|end)">([^<]*)</g)].map(
    ([, x = '', y = '', anchor, text = '']) => {
      const width = text.length * LETTER;
      const from = anchor === 'start' ? Number(x) : Number(x) - width;
      return { row: Number(y), left: from, right: from + width, pole: anchor === 'start' ? from - 5 : Number(x) + 5 };
    },
  );
const polesIn = (svg: string) =>
  [...svg.matchAll(/<path d="M([\d.]+) ([\d.]+)V480"/g)].map(([, x, top]) => ({ x: Number(x), top: Number(top) }));

describe('staffs in the picture of a ticket', () => {
  test('of alerts carry a cloth, solid while they call; those of notes are bare', () => {
    const svg = draw(facts([alert(0.1), alert(0.9, 'low', 'acknowledged')], [note(0.5, 'valve opened')]));
    expect(polesIn(svg)).toHaveLength(3);
    expect([...svg.matchAll(/<path transform[^>]*fill="(#\w+)"/g)].map(([, fill]) => fill).sort()).toEqual([
      '#151510',
      '#fcfcfa',
    ]);
    expect(svg).toContain('06:00 note: valve opened');
  });

  test('what lies outside the span or was withdrawn is not drawn', () => {
    expect(draw(facts([alert(-0.1), alert(1.1)], [note(0.5, 'wrong', at(0.6)), note(2, 'later')]))).toBe('');
  });

  test('a long note is cut, and what people wrote cannot become a mark', () => {
    const svg = draw(facts([], [note(0.2, '<b>all valves of the manifold were opened and closed</b>')]));
    expect(svg).toContain('note: &lt;b&gt;all valves of the manifold w…');
  });

  test('words lie neither on each other nor under a staff that rises past them, however many there are', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(share, { maxLength: 6 }),
        fc.array(fc.tuple(share, fc.stringMatching(/^[a-z ]{1,40}$/)), { maxLength: 8 }),
        (alerts, notes) => {
          const svg = draw(
            facts(
              alerts.map((one) => alert(one)),
              notes.map(([one, text]) => note(one, text)),
            ),
          );
          const words = wordsIn(svg);
          const poles = polesIn(svg);
          expect(poles).toHaveLength(alerts.length + notes.length);
          for (const [i, a] of words.entries()) {
            expect(a.left).toBeGreaterThanOrEqual(0);
            for (const b of words.slice(i + 1))
              expect(a.row !== b.row || a.right <= b.left + 1e-6 || b.right <= a.left + 1e-6).toBe(true);
            // A staff with its top at or above the words' own line passes them to the left or to the right.
            for (const pole of poles)
              if (pole.top < a.row - 9.5) expect(pole.x <= a.left + 0.1 || pole.x >= a.right - 0.1).toBe(true);
          }
        },
      ),
    );
  });
});
