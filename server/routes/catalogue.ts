/** The catalogue with every number's source, so that the page and other programs keep no copy of it. */
import { CATALOGUE_VERSION, GASES } from '../../shared/catalogue/gases.ts';
import { SIGNATURES_BY_ID } from '../../shared/catalogue/signatures.ts';
import { SOURCES } from '../../shared/catalogue/sources.ts';
import type { CatalogueGas } from '../../shared/catalogue/types.ts';
import { nullable, object, type Static, Type, words } from '../../shared/contract/schema.ts';
import { SIGNATURES } from '../../shared/contract/words.ts';
import type { App } from '../deps.ts';

const Source = object({
  kind: words(['published', 'calculated', 'common practice', 'from memory'] as const),
  ref: Type.String(),
});
const Gas = object({
  id: Type.String(),
  name: Type.String(),
  formula: Type.String(),
  aliases: Type.Array(Type.String()),
  kind: words(['gas', 'solvent', 'mixture'] as const),
  molarMassGramsPerMole: nullable(object({ value: Type.Number(), source: Source })),
  relativeSensitivity: object(
    {
      value: Type.Number(),
      low: Type.Number(),
      high: Type.Number(),
      quality: words(['good', 'fair', 'weak', 'poor', 'conflicting', 'none'] as const),
      source: Source,
    },
    'Total ionisation relative to N2',
  ),
  records: Type.Array(
    object({
      energyElectronVolt: nullable(Type.Number()),
      lowMassCutoff: Type.Number(),
      peaks: Type.Record(Type.String(), Type.Number(), { description: 'm/z to intensity, largest 100' }),
      source: Source,
    }),
  ),
  unlisted: nullable(
    object(
      { peaks: Type.Record(Type.String(), Type.Number()), source: Source },
      'Peaks that must be there and that no record lists: counted as an error, never as evidence',
    ),
  ),
  hazards: Type.Array(Type.String()),
});

const present = (gas: CatalogueGas): Static<typeof Gas> => ({
  id: gas.id,
  name: gas.name,
  formula: gas.formula,
  aliases: [...gas.aliases],
  kind: gas.kind,
  molarMassGramsPerMole: gas.molarMassGramsPerMole && {
    value: gas.molarMassGramsPerMole.value,
    source: SOURCES[gas.molarMassGramsPerMole.source],
  },
  relativeSensitivity: { ...gas.relativeSensitivity, source: SOURCES[gas.relativeSensitivity.source] },
  records: gas.records.map((record) => ({
    energyElectronVolt: record.energyElectronVolt,
    lowMassCutoff: record.lowMassCutoff,
    peaks: Object.fromEntries(Object.entries(record.peaks)),
    source: SOURCES[record.source],
  })),
  unlisted: gas.unlisted
    ? { peaks: Object.fromEntries(Object.entries(gas.unlisted.peaks)), source: SOURCES[gas.unlisted.source] }
    : null,
  hazards: [...gas.hazards],
});

const SignatureSheet = object({
  signature: words(SIGNATURES),
  title: Type.String(),
  meaning: Type.String(),
  steps: Type.Array(Type.String(), { description: 'What to do, in order' }),
  cautions: Type.Array(Type.String()),
  settle: Type.String({ description: 'What would settle it' }),
  priority: Type.String({ description: 'How its priority is chosen' }),
});

const sheets = (): Static<typeof SignatureSheet>[] =>
  SIGNATURES.map((signature) => {
    const { title, meaning, firstSteps, cautions, settles, priority } = SIGNATURES_BY_ID[signature];
    const steps = [...firstSteps];
    return { signature, title, meaning, steps, cautions: [...cautions], settle: settles, priority: priority.basis };
  });

export const catalogueRoutes = (app: App): void => {
  const gases = GASES.map(present);
  app.get(
    '/api/v1/gases',
    {
      schema: {
        summary: "The gas catalogue, with every number's source",
        tags: ['catalogue'],
        response: { 200: object({ version: Type.String(), gases: Type.Array(Gas) }) },
      },
      config: { policy: 'viewer' },
    },
    async () => ({ version: CATALOGUE_VERSION, gases }),
  );

  app.get(
    '/api/v1/signatures',
    {
      schema: {
        summary: 'What each signature means, what to do first, with which cautions',
        tags: ['catalogue'],
        response: { 200: object({ signatures: Type.Array(SignatureSheet) }) },
      },
      config: { policy: 'viewer' },
    },
    async () => ({ signatures: sheets() }),
  );
};
