import { ago, duration, isOld } from '../notation/age.ts';
import { words } from '../strings/frame.ts';
import { useNow } from './clock.ts';

interface AgeProps {
  readonly at: string | null;
  readonly periodSeconds?: number | null;
  readonly prefix?: string;
  /** Without "ago", where the place already says what it is. */
  readonly bare?: boolean;
  /** Counted on every so many seconds. */
  readonly step?: number;
}

/** An age that goes on counting, whatever becomes of the line to the server. Heavy when it is old. */
export function Age({ at, periodSeconds, prefix = '', bare = false, step = 1 }: AgeProps) {
  const now = useNow(step);
  if (at === null) return <>{words.noScan}</>;
  const seconds = (now - Date.parse(at)) / 1000;
  const text = bare ? duration(seconds) : ago(seconds);
  const old = periodSeconds !== undefined && isOld(seconds, periodSeconds);
  return (
    <>
      {prefix}
      {old ? <b className="ink2">{text}</b> : text}
    </>
  );
}

/** How long something has lasted, counting. */
export function Lasting({ since, step = 1 }: { readonly since: string; readonly step?: number }) {
  const now = useNow(step);
  return <>{duration((now - Date.parse(since)) / 1000)}</>;
}
