/** A first scan that a newcomer can send: a few masses of a chamber at rest, in the analyser's own pressure unit. */
const MASSES = [2, 18, 28, 32, 40, 44];
const VALUES_PA = [2.4e-7, 6.1e-8, 5.2e-8, null, 1.1e-10, 1.4e-8];

export interface CurlParts {
  readonly origin: string;
  readonly token: string;
  readonly analyser: string;
  readonly at: Date;
}

/** A shell takes everything between single quotes as it is; a single quote itself has to leave them for a moment. */
const quoted = (text: string): string => `'${text.replace(/'/g, `'\\''`)}'`;

export function scanCurl({ origin, token, analyser, at }: CurlParts): string {
  const instant = at.toISOString().replace(/\.\d+Z$/, 'Z');
  const scan = {
    analyser,
    id: `try-${at.getTime()}`,
    at: instant,
    seconds: 8,
    masses: MASSES,
    values: VALUES_PA,
    unit: 'Pa',
  };
  return [
    `curl -X POST ${quoted(`${origin}/api/v1/scans`)} \\`,
    `  -H ${quoted(`Authorization: Bearer ${token}`)} -H 'Content-Type: application/json' \\`,
    `  -d ${quoted(JSON.stringify({ scans: [scan] }).replace(',"masses"', ',\n       "masses"'))}`,
  ].join('\n');
}

/** A document to begin with: one area, one chamber, one analyser. */
export const FIRST_DOCUMENT = JSON.stringify(
  {
    areas: [{ id: 'hall', name: 'Hall', timeZone: 'UTC', shifts: ['06:00', '14:00', '22:00'] }],
    chambers: [
      {
        id: 'prep-1',
        name: 'Preparation 1',
        area: 'hall',
        kind: 'preparation',
        volumeLitres: 40,
        pumpingSpeedLitresPerSecond: { N2: 250 },
      },
    ],
    analysers: [{ id: 'prep-1-a', chamber: 'prep-1', principle: 'quadrupole', massRange: [1, 100] }],
  },
  null,
  2,
);
