import { useEffect, useState } from 'react';
import { closer, moved, type Span, wider } from '../charts/zoom.ts';
import { nowMs } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words } from '../strings/chamber.ts';
import { RANGES, type SpanAddress } from './address.ts';
import { isFixed, spanFields } from './span.ts';

interface SpanControlsProps {
  readonly address: SpanAddress;
  readonly span: Span;
  readonly change: (part: Partial<SpanAddress>, how?: 'push' | 'replace') => void;
}

const RANGE_WORDS = { '8h': '8 h', '30h': '30 h', '7d': '7 d', '90d': '90 d' } as const;

/** The span of a trend by buttons, keys and two fields: nothing needs a drag. */
export function SpanControls({ address, span, change }: SpanControlsProps) {
  const fixed = isFixed(address);
  const choose = (next: Span) => change(spanFields(next));
  const acts = [
    { sign: '+', name: words.lookCloser, act: () => choose(closer(span, nowMs())) },
    { sign: '−', name: words.lookWider, act: () => choose(wider(span, nowMs())) },
    { sign: '←', name: words.earlier, act: () => choose(moved(span, -1, nowMs())) },
    { sign: '→', name: words.later, act: () => choose(moved(span, 1, nowMs())) },
  ] as const;
  const reset = () => change({ from: null, to: null });
  useKeys({
    '+': acts[0].act,
    '=': acts[0].act,
    '-': acts[1].act,
    left: acts[2].act,
    right: acts[3].act,
    '0': reset,
  });
  return (
    <>
      <fieldset className="opt">
        <legend className="unseen">{words.span}</legend>
        {RANGES.map((range) => (
          <button
            key={range}
            type="button"
            aria-pressed={!fixed && address.range === range}
            onClick={() => change({ range, from: null, to: null })}
          >
            {RANGE_WORDS[range]}
          </button>
        ))}
      </fieldset>
      <SpanFields span={span} choose={choose} />
      <span className="steps-of">
        {acts.map(({ sign, name, act }) => (
          <button key={sign} type="button" className="sign-key" aria-label={name} onClick={act}>
            {sign}
          </button>
        ))}
        {fixed ? (
          <button type="button" onClick={reset}>
            {words.toNow}
          </button>
        ) : null}
      </span>
    </>
  );
}

interface SpanFieldsProps {
  readonly span: Span;
  readonly choose: (span: Span) => void;
}

/** Two fields for a span of one’s own: it is applied when both are times and the first is earlier. */
export function SpanFields({ span, choose }: SpanFieldsProps) {
  const zone = useZone();
  const given = { from: fieldValue(span.from, zone), to: fieldValue(span.to, zone) };
  const [typed, setTyped] = useState(given);
  useEffect(() => setTyped({ from: given.from, to: given.to }), [given.from, given.to]);
  const apply = () => {
    const from = fieldInstant(typed.from, zone);
    const to = fieldInstant(typed.to, zone);
    const untouched = typed.from === given.from && typed.to === given.to;
    if (from !== null && to !== null && to > from && !untouched) choose({ from, to });
    else setTyped(given);
  };
  return (
    <span className="span-fields">
      {(['from', 'to'] as const).map((end) => (
        <label key={end}>
          {end}{' '}
          <input
            className="when"
            size={16}
            inputMode="numeric"
            placeholder="2026-11-27 06:04"
            value={typed[end]}
            onChange={(event) => setTyped({ ...typed, [end]: event.target.value })}
            onBlur={apply}
            onKeyDown={(event) => event.key === 'Enter' && apply()}
          />
        </label>
      ))}
    </span>
  );
}
