import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Alert, AlertGroup } from '../../shared/contract/alerts.ts';
import { groupsQuestion } from '../api/alarmQuestions.ts';
import { roundQuestion } from '../api/questions.ts';
import { listed } from '../notation/sentence.ts';
import { words } from '../strings/alertList.ts';

const HOUR_MS = 3_600_000;
/** Members of a group began within hours of each other: enough to find it whichever of them is looked at. */
const LOOK_BACK_MS = 48 * HOUR_MS;

/** What binds the members, as the rest of "one of 5 chambers that …". */
export const bond = ({ kind, shared }: Pick<AlertGroup, 'kind' | 'shared'>): string => {
  return kind === 'flood' ? words.raisedAtTheSameTime(listed(shared)) : words.changedTogether(listed(shared));
};

/** The other chambers that began together with this one. */
export function GroupLine({ alert }: { readonly alert: Alert }) {
  const from = alert.group === null ? null : Date.parse(alert.raisedAt) - LOOK_BACK_MS;
  const { data, isError } = useQuery(groupsQuestion(from));
  const { data: round } = useQuery(roundQuestion);
  if (alert.group === null) return null;
  if (isError) return <p className="facts">{words.itBeganTogetherWithOthers}</p>;
  const group = data?.groups.find(({ id }) => id === alert.group);
  if (!group) return null;
  const names = new Map(round?.areas.flatMap(({ chambers }) => chambers.map(({ id, name }) => [id, name] as const)));
  const others = group.chambers.filter((chamber) => chamber !== alert.chamber);
  return (
    <p className="facts together">
      <span>
        {words.oneOf(group.chambers.length, bond(group))}{' '}
        {others.map((chamber, i) => (
          <span key={chamber}>
            {i === 0 ? '' : ', '}
            <Link href={`/chambers/${encodeURIComponent(chamber)}`}>{names.get(chamber) ?? chamber}</Link>
          </span>
        ))}
        .
      </span>
    </p>
  );
}
