import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import type { Operation } from '../../shared/contract/about.ts';
import { operationQuestion } from '../api/questions.ts';
import { Age, Lasting } from '../frame/Age.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { duration } from '../notation/age.ts';
import { bytes } from '../notation/bytes.ts';
import { words } from '../strings/about.ts';
import { Rich } from '../strings/Rich.tsx';
import { FactsTable } from './FactsTable.tsx';

export function OperationSection() {
  const question = useQuery(operationQuestion);
  return (
    <Section className="sec" margin={words.operationMargin}>
      <h2>{words.operation}</h2>
      <Answered question={question} what={words.operationFacts} lines={6}>
        {(operation) => (
          <>
            <FactsTable rows={rowsOf(operation)} />
            {operation.lastBackup === null ? <p className="note">{words.backupHow}</p> : null}
            {operation.arrival !== null && operation.arrival.earliest.seconds < 0 ? (
              <p className="note">{words.clocksAhead}</p>
            ) : null}
          </>
        )}
      </Answered>
    </Section>
  );
}

const rowsOf = (operation: Operation): (readonly [string, ReactNode])[] => [
  [words.database, words.databaseIs(operation.database.version, bytes(operation.database.bytes))],
  [words.disk, diskText(operation.disk)],
  [words.backup, <LastBackup key="backup" backup={operation.lastBackup} />],
  [words.processes, <Processes key="processes" processes={operation.processes} />],
  [words.clocks, clocksText(operation.arrival)],
  [words.streams, words.streamsAre(operation.eventStreams)],
];

export const diskText = (disk: Operation['disk']): string => {
  if (disk === null) return words.diskUnknown;
  const says = disk.holds === 'the database' ? words.diskOfDatabase : words.diskOfFolder;
  return says(bytes(disk.freeBytes), bytes(disk.bytes));
};

function LastBackup({ backup }: { readonly backup: Operation['lastBackup'] }) {
  if (backup === null) return <>{words.backupNone}</>;
  const { at, kind, by, note } = backup;
  const text = note === '' ? words.backupIs(words.kinds[kind], by) : words.backupNoted(words.kinds[kind], by, note);
  return <Rich text={text} parts={{ age: () => <Age at={at} /> }} />;
}

const isWorker = (name: string): boolean => name === 'ullage-workers';

function Processes({ processes }: Pick<Operation, 'processes'>) {
  return (
    <>
      {processes.map(({ name, connections, since }) => (
        <div key={name}>
          <b>{words.process[name as keyof typeof words.process] ?? name}</b>{' '}
          <Rich text={words.processIs(connections)} parts={{ age: () => <Lasting since={since} /> }} />
        </div>
      ))}
      {processes.some(({ name }) => isWorker(name)) ? null : <b>{words.noWorkers}</b>}
    </>
  );
}

/** Seconds with one decimal below ten: a clock that is 0.3 s ahead shows. */
const offset = (seconds: number): string => {
  const size = Math.abs(seconds);
  const text = size < 10 ? words.seconds(size.toFixed(1)) : duration(size);
  return seconds < 0 ? words.minus(text) : text;
};

export const clocksText = (arrival: Operation['arrival']): string => {
  if (arrival === null) return words.clocksUnknown;
  const { medianSeconds, analysers, earliest, latest } = arrival;
  const middle = words.clocksAre(offset(medianSeconds), analysers);
  if (analysers < 2) return middle;
  return `${middle}, ${words.clocksSpread(offset(earliest.seconds), earliest.analyser, offset(latest.seconds), latest.analyser)}`;
};
