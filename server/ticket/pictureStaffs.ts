/**
 * Staffs in the picture of a ticket, from top to bottom: where an alert was raised, under its flag; where a person
 * noted something, bare. Their words stand above the plot; what has no room there stands in the summary.
 */
import { SIGNATURES_BY_ID } from '../../shared/catalogue/signatures.ts';
import type { AlertState, Priority } from '../../shared/contract/words.ts';
import type { TicketFacts } from './facts.ts';
import { escaped, INK, px, type Scales, SIGN, shortTime } from './paper.ts';

const ROWS = 3;
const ROW_HEIGHT = 15;
export const STAFFS_HEIGHT = ROWS * ROW_HEIGHT + 8;

/** The cloth of a flag beside its staff, 10 px high: the shape says the priority, as on the page. */
const CLOTH: Record<Priority, string> = {
  high: 'M.6 0H17.6L12.2 5L17.6 10H.6Z',
  medium: 'M.6 0L14.1 5L.6 10Z',
  low: 'M.6 1H7.2V9H.6Z',
};
const CLOTH_WIDTH = 20;

/** Solid cloth calls for somebody; an open one is known to somebody, put aside or over. */
export const calls = (state: AlertState): boolean => state === 'unacknowledged' || state === 'returned-unacknowledged';

export const flag = (priority: Priority, state: AlertState, x: number, y: number): string =>
  `<path transform="translate(${px(x)} ${px(y)})" d="${CLOTH[priority]}" fill="${calls(state) ? INK : '#fcfcfa'}" stroke="${INK}"/>`;

interface Staff {
  readonly ms: number;
  readonly words: string;
  readonly flag: { readonly priority: Priority; readonly state: AlertState } | null;
}

/** Longer notes are read in the summary. */
const NOTE_SIGNS = 32;
const short = (text: string): string => (text.length <= NOTE_SIGNS ? text : `${text.slice(0, NOTE_SIGNS - 1)}…`);

/** Alerts before notes, the latest first: whoever comes first has the choice of room for words. */
const staffsOf = (facts: TicketFacts): Staff[] => {
  const { span, alerts, notes } = facts;
  const latestFirst = (staffs: Staff[]): Staff[] => staffs.sort((a, b) => b.ms - a.ms);
  const raised = alerts.map(({ raisedAt, signature, priority, state }) => {
    const ms = Date.parse(raisedAt);
    const words = `${shortTime(ms, facts)} ${SIGNATURES_BY_ID[signature].title}, ${priority}`;
    return { ms, words, flag: { priority, state } };
  });
  const noted = notes
    .filter(({ withdrawnAt }) => withdrawnAt === null)
    .map(({ at, text }) => ({
      ms: Date.parse(at),
      words: `${shortTime(Date.parse(at), facts)} note: ${short(text)}`,
      flag: null,
    }));
  return [...latestFirst(raised), ...latestFirst(noted)].filter(
    ({ ms }) => ms >= span.from.getTime() && ms <= span.to.getTime(),
  );
};

interface Placed {
  readonly at: number;
  readonly row: number;
  readonly left: number;
  readonly right: number;
}

/** Words lie on no other words and on no staff that rises past them. */
const isFree = (place: Placed, placed: readonly Placed[]): boolean =>
  placed.every((other) => {
    if (other.row === place.row) return other.right <= place.left || other.left >= place.right;
    const [lower, upper] = other.row < place.row ? [other, place] : [place, other];
    return upper.at < lower.left || upper.at > lower.right;
  });

export const drawStaffs = (facts: TicketFacts, { plot, x }: Scales): string => {
  const placed: Placed[] = [];
  return staffsOf(facts)
    .map((staff) => {
      const at = x(staff.ms);
      const before = staff.flag ? CLOTH_WIDTH : 0;
      const width = before + staff.words.length * SIGN + 10;
      // Near the right edge the words stand to the left of their staff.
      const turned = at + width > plot.right + 110;
      const [left, right] = turned ? [at - width + before, at + before] : [at, at + width];
      const place = Array.from({ length: ROWS }, (_, row) => ({ at, row, left, right })).find((one) =>
        isFree(one, placed),
      );
      if (place) placed.push(place);
      const foot = plot.top - 8 - (place?.row ?? 0) * ROW_HEIGHT;
      const pole = `<path d="M${px(at)} ${px(place || staff.flag ? foot - 9 : plot.top)}V${plot.bottom}" stroke="${INK}" stroke-width="1.2"/>`;
      const cloth = staff.flag ? flag(staff.flag.priority, staff.flag.state, at, foot - 9) : '';
      if (!place) return pole + cloth;
      const [from, anchor] = turned ? [at - 5, 'end'] : [at + before + 5, 'start'];
      return `${pole}${cloth}<text x="${px(from)}" y="${px(foot)}" font-size="11.5" text-anchor="${anchor}">${escaped(staff.words)}</text>`;
    })
    .join('');
};
