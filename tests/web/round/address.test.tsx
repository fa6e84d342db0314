// @vitest-environment jsdom
import { act, fireEvent, screen, waitFor } from '@testing-library/react';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readAddress, writeAddress } from '../../../web/address/codec.ts';
import { linkToView } from '../../../web/frame/CopyLink.tsx';
import { EVERYTHING, MOST_OPEN, type RoundAddress, roundCodec, toggled } from '../../../web/round/address.ts';
import { cleanStage, stage } from '../fixture/stage.tsx';

/** As the server makes them: of the first alert of a shared cause, or of the time at which a flood began. */
const group = fc.oneof(
  fc.uuid().map((id) => `shared-${id}`),
  fc.integer({ min: 0, max: 4e12 }).map((ms) => `flood-${ms.toString(36)}`),
);
const word = (longest: number) =>
  fc.string({ unit: 'grapheme', maxLength: longest }).filter((s) => s.length <= longest);
const view: fc.Arbitrary<RoundAddress> = fc.record({
  find: word(200),
  area: word(64),
  kind: word(60),
  state: word(40),
  tag: word(40),
  gas: word(40),
  since: fc.constantFrom('all' as const, 'changed' as const),
  open: fc.uniqueArray(group, { maxLength: MOST_OPEN }),
});

describe('the address of the round', () => {
  test('holds the whole view: what is looked for, and which groups stand open, in their order', () => {
    fc.assert(
      fc.property(view, (shown) => {
        expect(readAddress(roundCodec, writeAddress(roundCodec, shown))).toEqual(shown);
      }),
    );
  });

  test('a press opens a group, the next one folds it; the other groups and the order stay', () => {
    fc.assert(
      fc.property(fc.uniqueArray(group, { maxLength: MOST_OPEN - 1 }), group, (open, pressed) => {
        fc.pre(!open.includes(pressed));
        expect(toggled(open, pressed)).toEqual([...open, pressed]);
        expect(toggled(toggled(open, pressed), pressed)).toEqual(open);
      }),
    );
  });

  test('opening more than an address should hold folds those that were opened first', () => {
    const open = Array.from({ length: MOST_OPEN }, (_, i) => `flood-${i}`);
    const next = toggled(open, 'flood-new');
    expect(next).toHaveLength(MOST_OPEN);
    expect(next[0]).toBe('flood-1');
    expect(readAddress(roundCodec, writeAddress(roundCodec, { ...EVERYTHING, open: next })).open).toEqual(next);
  });
});

describe('groups that a person has opened', () => {
  cleanStage();
  const member = () => screen.queryByRole('article', { name: 'Etch 3' });
  const press = async (name: string) => fireEvent.click(await screen.findByRole('button', { name }));
  /** History moves are told to the page later, as browsers do it. */
  const go = (by: number) => act(async () => window.history.go(by));

  test('stand in the address; back folds them and forward opens them again', async () => {
    stage('/?since=all', { together: true });
    await press('Show the 3 chambers');
    await waitFor(() => expect(member()).toBeTruthy());
    const opened = window.location.search;
    expect(readAddress(roundCodec, opened).open).toHaveLength(1);
    await go(-1);
    await waitFor(() => expect(member()).toBeNull());
    expect(readAddress(roundCodec, window.location.search).open).toEqual([]);
    await go(1);
    await waitFor(() => expect(member()).toBeTruthy());
    expect(window.location.search).toBe(opened);
    await press('Fold the 3 chambers');
    await waitFor(() => expect(member()).toBeNull());
    expect(window.location.search).toBe('');
  });

  test('are carried by the link that is copied, and stand open for whoever follows it', async () => {
    stage('/', { together: true });
    await press('Show the 3 chambers');
    await waitFor(() => expect(member()).toBeTruthy());
    const link = new URL(linkToView(window.location, Date.now()));
    stage(`${link.pathname}${link.search}`, { together: true });
    const fold = await screen.findByRole('button', { name: 'Fold the 3 chambers' });
    expect(fold.getAttribute('aria-expanded')).toBe('true');
    expect(member()).toBeTruthy();
  });

  test('of which nobody knows any more are passed over', async () => {
    stage('/?open=shared-gone', { together: true });
    expect(await screen.findByRole('button', { name: 'Show the 3 chambers' })).toBeTruthy();
    expect(member()).toBeNull();
  });

  test('stay open while something is looked for and when everything is shown again', async () => {
    stage('/?open=shared-gone&find=zebra', { together: true });
    await press('Show all');
    await waitFor(() => expect(window.location.search).toBe('?open=shared-gone'));
  });
});
