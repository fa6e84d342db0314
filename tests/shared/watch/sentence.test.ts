/** What is said of pumps, surfaces and the analyser: only gases that rose, and of the gauge only what it did. */
import { describe, expect, test } from 'vitest';
import type { Change } from '../../../shared/watch/estimates.ts';
import type { GaugeSeen } from '../../../shared/watch/gaugeSaid.ts';
import { type SentenceInput, sentence } from '../../../shared/watch/sentence.ts';
import { plainSentence } from '../../support/sentenceInput.ts';

const change = (factor: number): Change => ({
  now: { valuePa: 2.3e-9, lowPa: 1.6e-9, highPa: 3.2e-9, sigmaPa: 1e-10, detected: true },
  usualPa: null,
  usualLowPa: 0,
  usualHighPa: 1e-10,
  factor,
  atLeast: false,
});
const gauge = (nowPa: number, isScale = false): GaugeSeen => ({
  nowPa,
  beforePa: 1e-6,
  sigma: 0.012,
  inTail: false,
  isScale,
});
const base: SentenceInput = { ...plainSentence('pumping-loss', 'pumping'), gauge: null };

describe('a pump', () => {
  test.each<[string, Partial<SentenceInput>, string]>([
    ['all gases', { pump: 'all' }, 'Pumping is going: every gas is about 2 times the usual. Likely.'],
    [
      'a getter',
      { pump: 'getter', risen: ['CO', 'N2', 'H2'], stayed: ['CH4', 'Ar'] },
      'A getter gives in: carbon monoxide, nitrogen and hydrogen rise, methane and argon do not; what rises most is at about 2 times the usual. Likely.',
    ],
    [
      'a getter of which less is seen',
      { pump: 'getter', risen: ['CO', 'N2'] },
      'A getter gives in: carbon monoxide and nitrogen rise; what rises most is at about 2 times the usual. Likely.',
    ],
    [
      'a cryopump',
      { pump: 'cryopump', risen: ['H2', 'He'], stayed: ['H2O'] },
      'A cryopump gives in: hydrogen and helium rise, water does not; what rises most is at about 2 times the usual. Likely.',
    ],
  ])('%s', (_what, input, said) => expect(sentence({ ...base, ...input })).toBe(said));
});

describe('a warm surface', () => {
  const warm: SentenceInput = {
    ...base,
    signature: 'carbon-oxides',
    cause: 'warm-surface',
    gases: ['CO', 'H2'],
    changes: [
      { gas: 'CO', change: change(2) },
      { gas: 'H2', change: change(1.8) },
    ],
  };
  test('gives off its gases, each with its factor', () => {
    expect(sentence(warm)).toBe(
      'Carbon monoxide is 2 times the usual and hydrogen is 1.8 times the usual: a warm surface gives them off. Likely.',
    );
  });

  test('and no nitrogen, where that is known', () => {
    expect(sentence({ ...warm, stayed: ['N2'] })).toContain(', nitrogen has not risen: a warm surface gives them off');
  });

  test('gases of which no factor is known are still several', () => {
    expect(sentence({ ...warm, changes: [] })).toBe(
      'Carbon monoxide and hydrogen have risen: a warm surface gives them off. Likely.',
    );
  });
});

describe('the analyser', () => {
  const own: Partial<SentenceInput> = {
    signature: 'analyser-outgassing',
    cause: 'outgassing',
    gases: ['CO', 'CO2', 'CH4'],
    risen: ['CO2', 'CO'],
  };
  const high: Partial<SentenceInput> = { signature: 'sensitivity-drift', cause: 'gain-up' };
  const slid: Partial<SentenceInput> = { signature: 'mass-shift', cause: 'mass-shift' };
  test.each<[string, Partial<SentenceInput>, string]>([
    [
      'its own gas beside a gauge that stands still',
      { ...own, gauge: gauge(1.01e-6) },
      'The analyser itself gives off carbon dioxide and carbon monoxide: the gauge stands still within 4\u00a0%. Likely.',
    ],
    [
      'its own gas without a gauge',
      own,
      'The analyser itself gives off carbon dioxide and carbon monoxide: no gauge is there to tell. Likely.',
    ],
    [
      'a gain without a gauge',
      high,
      'The analyser reads high: every gas shows 2 times the usual, no gauge is there to tell. Likely.',
    ],
    [
      'a gain beside a gauge that rose',
      { ...high, kappa: 0.94, gauge: gauge(1.6e-6) },
      'The analyser reads high: every gas shows 2 times the usual, the gauge has risen by a factor of 1.6. Likely.',
    ],
    [
      'shares of a sum that the gauge scales',
      { ...high, gauge: gauge(1.8e-6, true) },
      'The analyser reads high: every gas shows 2 times the usual, the gauge, which gives the scale, has risen by a factor of 1.8. Likely.',
    ],
    [
      'a mass scale without a gauge',
      slid,
      'The mass scale of the analyser has slid: the heavier the peak, the more it has lost; no gauge is there to tell. Likely.',
    ],
  ])('%s', (_what, input, said) => expect(sentence({ ...base, ...input })).toBe(said));
});
