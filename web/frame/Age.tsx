import { ago, duration, isOld } from '../notation/age.ts';
import { useNow } from './clock.ts';

interface AgeProps {
  readonly at: string | null;
  readonly periodSeconds?: number | null;
  readonly prefix?: string;
  /** Without "ago", where the place already says what it is. */
  readonly bare?: boolean;
}

/** An age that goes on counting, whatever becomes of the line to the server. Heavy when it is old. */
export function Age({ at, periodSeconds, prefix = '', bare = false }: AgeProps) {
  const now = useNow();
  if (at === null) return <>no scan yet</>;
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
export function Lasting({ since }: { readonly since: string }) {
  const now = useNow();
  return <>{duration((now - Date.parse(since)) / 1000)}</>;
}
