import { describe, expect, test } from 'vitest';
import { isRight as rightByServer } from '../../../server/performance/confusion.ts';
import { VERIFIED_CAUSES } from '../../../shared/contract/alerts.ts';
import { SIGNATURES } from '../../../shared/contract/words.ts';
import { confusionSentence } from '../../../web/performance/ConfusionSection.tsx';
import { confusionTable, isRight } from '../../../web/performance/confusion.ts';
import { confusion } from '../fixture/alarms.ts';

const answer = confusion(Date.UTC(2026, 10, 27));

describe('claimed against found', () => {
  test('the page calls right what the server counts as right', () => {
    for (const claimed of SIGNATURES) {
      for (const found of VERIFIED_CAUSES) expect(isRight(claimed, found)).toBe(rightByServer(claimed, found));
    }
  });

  test('every alert has one cell; “not found” is the last column', () => {
    const { found, rows } = confusionTable(answer);
    expect(found.at(-1)).toBe('not-found');
    const listed = rows.flatMap(({ cells }) => cells.flatMap((cell) => cell?.alerts ?? []));
    expect(listed.sort()).toEqual(answer.cells.flatMap(({ alerts }) => alerts).sort());
    expect(rows[0]).toMatchObject({ claimed: 'air-leak', total: 4, right: 4 });
    expect(rows.find(({ claimed }) => claimed === 'water')).toMatchObject({ total: 3, right: 2 });
  });

  test('in a sentence, however little there is', () => {
    expect(confusionSentence(answer)).toMatch(
      /^8 of 12 closed alerts say what was found; the name was right in 86.%\.$/,
    );
    expect(confusionSentence({ ...answer, closed: 0, verified: 0 })).toBe('No alert was closed in this span.');
    expect(confusionSentence({ ...answer, verified: 0 })).toMatch(/none says what was found/);
    expect(confusionSentence({ ...answer, verified: 1, rightFirst: null })).toMatch(/in none could it be told/);
  });
});
