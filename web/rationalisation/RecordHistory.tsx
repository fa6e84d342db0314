import { useQuery } from '@tanstack/react-query';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import type { Signature } from '../../shared/contract/words.ts';
import { recordHistoryQuestion } from '../api/alarmQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/rationalisation.ts';

import { FieldValue } from './FieldValue.tsx';
import { changedFields, FIELD_TITLE } from './recordWords.ts';

interface RecordHistoryProps {
  readonly signature: Signature;
  readonly kind: string;
  readonly inForce: Rationalisation;
}

/** Every version, the newest first: who, when, why, and what it changed. */
export function RecordHistory({ signature, kind, inForce }: RecordHistoryProps) {
  const question = useQuery(recordHistoryQuestion(signature, kind));
  return (
    <Section className="sec last" label={words.history} margin={words.everyVersionIsKept}>
      <h2>{words.history}</h2>
      <Answered question={question} what={words.theHistory} lines={3}>
        {({ records }) => {
          const sorted = [...records].sort((a, b) => b.version - a.version);
          return (
            <ol className="history">
              {sorted.map((one, i) => (
                <Version
                  key={`${one.kind} ${one.version}`}
                  one={one}
                  before={sorted[i + 1] ?? null}
                  isInForce={one.version === inForce.version && one.kind === inForce.kind}
                />
              ))}
            </ol>
          );
        }}
      </Answered>
    </Section>
  );
}

interface VersionProps {
  readonly one: Rationalisation;
  readonly before: Rationalisation | null;
  readonly isInForce: boolean;
}

function Version({ one, before, isInForce }: VersionProps) {
  const zone = useZone();
  const changes = before === null ? [] : changedFields(before.record, one.record);
  return (
    <li>
      <div className="when">
        <b>{one.version === 0 ? words.asTheProductBrings : words.version(one.version)}</b>
        <span className="note">{isInForce ? words.inForce : words.replaced}</span>
      </div>
      <div>
        {one.setBy && one.setAt ? (
          <p>
            {one.setBy}, {moment(Date.parse(one.setAt), zone, nowMs())}
            {one.note ? `: “${one.note}”` : ''}
          </p>
        ) : (
          <p className="note">{one.note ?? words.builtInASiteWrites}</p>
        )}
        {changes.length > 0 ? (
          <dl className="changes">
            {changes.map(({ field, before: was, after }) => (
              <div key={field}>
                <dt>{FIELD_TITLE[field]}</dt>
                <dd>
                  <span className="note">{words.before}</span> <FieldValue value={was} />
                </dd>
                <dd>
                  <span className="note">{words.after}</span> <FieldValue value={after} />
                </dd>
              </div>
            ))}
          </dl>
        ) : before === null ? null : (
          <p className="note">{words.itSaysTheSame}</p>
        )}
      </div>
    </li>
  );
}
