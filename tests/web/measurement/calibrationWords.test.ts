import { describe, expect, test } from 'vitest';
import { rivalInForce, valueText } from '../../../web/measurement/calibrationWords.ts';
import { changeText } from '../../../web/measurement/Proposals.tsx';
import { choicesOf } from '../../../web/measurement/SuggestionForm.tsx';
import { recomputedPath } from '../../../web/measurement/TaskList.tsx';
import { calibrations, tasks } from '../fixture/calibrations.ts';

const NOW = Date.UTC(2026, 10, 25, 6);
const entries = calibrations(NOW, 'a');

describe('calibrations in words', () => {
  test('a value is written with its uncertainty, a pattern by its largest peaks', () => {
    expect(valueText('sensitivity', { value: 7.5e-7, relativeUncertainty: 0.05 }, 'Pa')).toBe(
      '7.50×10⁻⁷\u00a0A/Pa ±\u00a05\u00a0%',
    );
    expect(valueText('gain', { value: 990, relativeUncertainty: null }, 'Pa')).toBe('990');
    expect(entries[0] && valueText('pattern', entries[0].value, 'Pa')).toBe(
      '40: 100, 20: 11.4, 36: 0.31, ±\u00a03\u00a0%; response 1.24 ±\u00a06\u00a0%',
    );
    const background = { peaks: { '28': { heightPa: 2e-9, sigmaPa: 1e-10 } }, unsteadiness: 0.1 };
    expect(valueText('background', background, 'mbar')).toBe('28: 2.0×10⁻¹¹\u00a0mbar; unsteady by 10\u00a0%');
  });

  test('a proposal is set beside what holds now for its kind and gas, and nothing else', () => {
    const [pattern, , sensitivity] = entries;
    if (!pattern || !sensitivity) throw new Error('the history has these');
    expect(rivalInForce(pattern, entries, NOW)).toBeNull();
    const proposal = {
      ...sensitivity,
      id: 'p',
      state: 'proposed' as const,
      value: { value: 6e-7, relativeUncertainty: null },
    };
    expect(rivalInForce(proposal, entries, NOW)?.id).toBe('c-2');
    expect(changeText(proposal, sensitivity)).toBe('÷1.3 of what holds now');
    expect(changeText(pattern, null)).toBeNull();
  });

  test('the offered factor is one of two things, and its interval becomes one standard deviation', () => {
    const offered = { factor: 1.25, low: 1.25 - 0.0245, high: 1.25 + 0.0245, because: '' };
    const both = choicesOf({ ...offered, sensitivityAmperesPerPascal: 6e-7 });
    expect(both.map(({ kind, value }) => [kind, value])).toEqual([
      ['sensitivity', 6e-7],
      ['gauge-factor', 0.8],
    ]);
    expect(both[0]?.relativeUncertainty).toBeCloseTo(0.01, 6);
    expect(choicesOf({ ...offered, sensitivityAmperesPerPascal: null }).map(({ kind }) => kind)).toEqual([
      'gauge-factor',
    ]);
  });

  test('only a recomputation that is done leads to the trend, over its own period', () => {
    const [done, pattern] = tasks(NOW, 'a');
    if (!done || !pattern) throw new Error('there are these tasks');
    expect(recomputedPath(done, 'c')).toMatch(/^\/chambers\/c\?analyser=a&from=2026-.*&to=2026-.*&recomputation=t-3$/);
    expect(recomputedPath({ ...done, state: 'waiting' }, 'c')).toBeNull();
    expect(recomputedPath(pattern, 'c')).toBeNull();
  });
});
