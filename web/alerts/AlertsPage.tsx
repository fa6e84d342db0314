import { useQuery } from '@tanstack/react-query';
import type { Alert } from '../../shared/contract/alerts.ts';
import { useAddress } from '../address/useAddress.ts';
import { alertsQuestion, roundQuestion } from '../api/questions.ts';
import { FindField } from '../frame/FindField.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { several } from '../notation/sentence.ts';
import { SIGNATURE_TITLE } from '../notation/words.ts';
import { AlertList } from './AlertList.tsx';
import {
  type AlertsAddress,
  alertsCodec,
  askedOf,
  PRIORITY_CHOICES,
  SIGNATURE_CHOICES,
  STATE_CHOICES,
} from './address.ts';
import { byWeight, isOpen, mayAcknowledge } from './moves.ts';

/** The sentence at the head of the list. */
export function alertsSentence(alerts: readonly Alert[], address: AlertsAddress): string {
  const open = alerts.filter((alert) => isOpen(alert.state));
  const waiting = open.filter((alert) => mayAcknowledge(alert.state)).length;
  if (address.state !== 'open') return `${several(alerts.length, 'alert')}, of which ${open.length} still open.`;
  if (open.length === 0) return 'No alert is open.';
  const nobody =
    waiting === 0
      ? 'somebody knows of each'
      : waiting === open.length
        ? 'nobody has acknowledged any'
        : `${waiting} of them nobody has acknowledged`;
  return `${several(open.length, 'alert is', 'alerts are')} open; ${nobody}.`;
}

function isFound(alert: Alert, address: AlertsAddress, chamberName: string): boolean {
  if (address.priority !== 'all' && alert.priority !== address.priority) return false;
  const text = `${chamberName} ${alert.chamber} ${alert.id} ${alert.summary} ${alert.gases.join(' ')}`.toLowerCase();
  return address.find
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}

export function AlertsPage() {
  useTitle('Alerts');
  const [address, change] = useAddress(alertsCodec);
  const question = useQuery(alertsQuestion(askedOf(address)));
  const { data: round } = useQuery(roundQuestion);
  const names = new Map(round?.areas.flatMap((area) => area.chambers.map(({ id, name }) => [id, name] as const)) ?? []);
  const nameOf = (id: string) => names.get(id) ?? id;
  const found = [...(question.data?.alerts ?? [])]
    .filter((alert) => isFound(alert, address, nameOf(alert.chamber)))
    .sort(byWeight);
  return (
    <>
      <Head
        margin={
          <>
            Alerts
            <br />
            worst first
          </>
        }
      >
        <h1 className="verdict">{question.data ? alertsSentence(found, address) : 'Alerts'}</h1>
      </Head>
      <Section>
        <Filters address={address} change={change} />
      </Section>
      {question.data === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what="The alerts" lines={8}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {question.data && found.length === 0 ? (
        <Section className="sec">
          <p className="say">Nothing here fits what you look for.</p>
          <p className="note">Alerts that are over are kept: choose the state “all” or “normal” to see them.</p>
        </Section>
      ) : null}
      <AlertList alerts={found} nameOf={nameOf} />
    </>
  );
}

interface FiltersProps {
  readonly address: AlertsAddress;
  readonly change: (part: Partial<AlertsAddress>, how?: 'push' | 'replace') => void;
}

function Filters({ address, change }: FiltersProps) {
  return (
    <search className="tools unfolded">
      <FindField
        value={address.find}
        size={18}
        hint="chamber, gas, words"
        find={(find) => change({ find }, 'replace')}
      />
      <Choice name="State" value={address.state} options={STATE_CHOICES} choose={(state) => change({ state })} />
      <Choice
        name="Priority"
        value={address.priority}
        options={PRIORITY_CHOICES}
        choose={(priority) => change({ priority })}
      />
      <Choice
        name="About"
        value={address.signature}
        options={SIGNATURE_CHOICES}
        word={(signature) => (signature === 'all' ? 'all' : SIGNATURE_TITLE[signature])}
        choose={(signature) => change({ signature })}
      />
      {address.chamber ? (
        <button type="button" onClick={() => change({ chamber: '' })}>
          Only {address.chamber}: show all chambers
        </button>
      ) : null}
    </search>
  );
}

interface ChoiceProps<W extends string> {
  readonly name: string;
  readonly value: W;
  readonly options: readonly W[];
  readonly word?: (option: W) => string;
  readonly choose: (option: W) => void;
}

function Choice<W extends string>({ name, value, options, word = (option) => option, choose }: ChoiceProps<W>) {
  return (
    <label>
      {name}{' '}
      <select value={value} onChange={(event) => choose(event.target.value as W)}>
        {options.map((option) => (
          <option key={option} value={option}>
            {word(option)}
          </option>
        ))}
      </select>
    </label>
  );
}
