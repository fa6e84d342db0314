import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { backlogQuestion, cataloguePage, readyQuestion, roundQuestion } from '../api/questions.ts';
import { Age } from '../frame/Age.tsx';
import { newestScan } from '../frame/Liveness.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useSession } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { count } from '../notation/number.ts';
import { several } from '../notation/sentence.ts';

const UNKNOWN = 'not known: the answer did not come';

/** The sentence at the head: whether all answers are up to date. */
export function lagSentence(scans: number | undefined): string {
  if (scans === undefined) return 'Whether the answers are up to date is not known.';
  if (scans === 0) return 'Every scan that came in has been analysed: the answers are up to date.';
  return `${several(scans, 'scan waits', 'scans wait')} to be analysed; the answers are that far behind.`;
}

export function AboutPage() {
  useTitle('About');
  const { version, site } = useSession();
  const backlog = useQuery(backlogQuestion);
  const ready = useQuery(readyQuestion);
  const catalogue = useQuery(cataloguePage);
  const { data: round } = useQuery(roundQuestion);
  const rows: readonly (readonly [string, ReactNode])[] = [
    ['Ullage', version],
    [
      'Catalogue of gases',
      catalogue.data ? `${catalogue.data.version}, ${several(catalogue.data.gases.length, 'gas', 'gases')}` : UNKNOWN,
    ],
    ['Waiting to be analysed', backlog.data ? several(backlog.data.scans, 'scan') : UNKNOWN],
    ['Newest scan', <Age key="age" at={newestScan(round)} />],
    [
      'Database',
      ready.data ? (ready.data.database.ok ? 'answers' : (ready.data.database.says ?? 'does not answer')) : UNKNOWN,
    ],
    ['Queue', ready.data ? (ready.data.queue.ok ? 'answers' : (ready.data.queue.says ?? 'does not answer')) : UNKNOWN],
    ['Chambers', round ? count(round.areas.reduce((sum, area) => sum + area.chambers.length, 0)) : UNKNOWN],
    ['Site', `${site.name}, ${site.timeZone}${site.example ? ', example data' : ''}`],
  ];
  return (
    <>
      <Head margin="About">
        <h1 className="verdict">{lagSentence(backlog.data?.scans)}</h1>
      </Head>
      <Section className="sec last" margin="versions, lag">
        <h2>This installation</h2>
        <table className="facts-table">
          <tbody>
            {rows.map(([name, value]) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{value}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="note about">
          Ullage watches and never switches: it writes to no tool. What it says does not replace gas detection,
          interlocks, the site’s procedures or licensed practice. For programs:{' '}
          <a href="/api/v1/openapi.json">the API</a>, <a href="/api/v1/gases">the catalogue with its sources</a>. Type:
          Fira Sans and STIX Two Text, both under the <a href="/fonts/OFL-FiraSans.txt">SIL Open</a>{' '}
          <a href="/fonts/OFL-STIXTwoText.txt">Font Licence</a>.
        </p>
      </Section>
    </>
  );
}
