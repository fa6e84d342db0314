/**
 * What each signature means, what to do first, with which cautions, and what would settle it.
 *
 * Causes, first steps and severities: common practice of vacuum work; severities S1 (people or equipment now) to S4
 * (a note) become priorities high, medium, low. Every entry names one example that must fire and one near miss that
 * must stay silent or be called by another name: the tests run both.
 */
import type { Signature } from '../contract/words.ts';
import type { SignatureEntry } from './signatures/entry.ts';
import { MEASUREMENT_SIGNATURES } from './signatures/measurement.ts';
import { VACUUM_SIGNATURES } from './signatures/vacuum.ts';

export const SIGNATURES_BY_ID: Readonly<Record<Signature, SignatureEntry>> = {
  ...VACUUM_SIGNATURES,
  ...MEASUREMENT_SIGNATURES,
};

/** All signatures in the order of the contract. */
export const SIGNATURE_LIST: readonly (SignatureEntry & { readonly id: Signature })[] = Object.entries(
  SIGNATURES_BY_ID,
).map(([id, entry]) => ({ id: id as Signature, ...entry }));
