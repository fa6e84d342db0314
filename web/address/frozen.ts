/**
 * A link that is copied shows what its sender saw: a span that moves with the clock becomes two instants. What else
 * moves (the round, the open alerts) is live for whoever opens it; unit, time zone and theme are the reader's own.
 *
 * A codec says that a view has a span by its fields `from` and `to`, and by `range` or `last` for a moving one.
 */
import { type Codec, type Field, readAddress } from './codec.ts';

// biome-ignore lint/suspicious/noExplicitAny: codecs of every view, read by the names of their fields alone
type AnyCodec = Codec<any>;

const MOVING = ['range', 'last'] as const;
const SECONDS: Readonly<Record<string, number>> = { h: 3600, d: 86_400 };

/** `8h`, `30d` in seconds; null for anything else. */
function secondsOf(word: unknown): number | null {
  const match = typeof word === 'string' ? /^(\d{1,4})([hd])$/.exec(word) : null;
  return match ? Number(match[1]) * (SECONDS[match[2] as string] ?? 0) : null;
}

const open = new Map<AnyCodec, number>();

/** For as long as a view is there. @returns takes it away again */
export function viewIsOpen(codec: AnyCodec): () => void {
  open.set(codec, (open.get(codec) ?? 0) + 1);
  return () => {
    const left = (open.get(codec) ?? 1) - 1;
    if (left > 0) open.set(codec, left);
    else open.delete(codec);
  };
}

/** The part of an address after `?`, with what moves held at `nowMs`. */
export function frozenSearch(search: string, nowMs: number, codecs: Iterable<AnyCodec> = open.keys()): string {
  const params = new URLSearchParams(search);
  for (const codec of codecs) {
    const { from, to } = codec as Readonly<Record<string, Field<number | null>>>;
    const name = MOVING.find((one) => one in codec);
    if (!from || !to || name === undefined) continue;
    const view = readAddress(codec, search) as Readonly<Record<string, unknown>>;
    const seconds = secondsOf(view[name]);
    if (seconds === null || (view.from !== null && view.to !== null)) continue;
    // To the second above, so that the newest point is still in it.
    const end = Math.ceil(nowMs / 1000) * 1000;
    params.set('from', from.write(end - seconds * 1000) ?? '');
    params.set('to', to.write(end) ?? '');
  }
  return params.toString();
}
