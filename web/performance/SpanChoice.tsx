import { SpanFields } from '../chamber/SpanControls.tsx';
import { isFixed, spanFields } from '../chamber/span.ts';
import { words } from '../strings/performance.ts';
import { type LookBack, type PerformanceAddress, RESPONDER_CHOICES, SPANS, shownSpan } from './address.ts';

interface SpanChoiceProps {
  readonly address: PerformanceAddress;
  readonly change: (part: Partial<PerformanceAddress>, how?: 'push' | 'replace') => void;
  readonly areas: readonly (readonly [string, string])[];
  readonly now: number;
}

const SPAN_WORD: Readonly<Record<LookBack, string>> = {
  '7d': '7 d',
  '30d': '30 d',
  '90d': '90 d',
  '365d': words.aYear,
};

/** What is looked at, all of it in the address. */
export function SpanChoice({ address, change, areas, now }: SpanChoiceProps) {
  const fixed = isFixed(address);
  return (
    <search className="ph performance-tools">
      <fieldset className="opt">
        <legend className="unseen">{words.span}</legend>
        {SPANS.map((span) => (
          <button
            key={span}
            type="button"
            aria-pressed={!fixed && address.last === span}
            onClick={() => change({ last: span, from: null, to: null })}
          >
            {SPAN_WORD[span]}
          </button>
        ))}
      </fieldset>
      <SpanFields span={shownSpan(address, now)} choose={(span) => change(spanFields(span))} />
      {fixed ? (
        <button type="button" onClick={() => change({ from: null, to: null })}>
          {words.toNow}
        </button>
      ) : null}
      <label>
        {words.area}{' '}
        <select value={address.area} onChange={(event) => change({ area: event.target.value })}>
          <option value="">{words.all}</option>
          {areas.map(([id, name]) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        {words.whoseResponse}{' '}
        <select
          value={address.responder}
          onChange={(event) => change({ responder: event.target.value as PerformanceAddress['responder'] })}
        >
          {RESPONDER_CHOICES.map((word) => (
            <option key={word}>{word}</option>
          ))}
        </select>
      </label>
    </search>
  );
}
