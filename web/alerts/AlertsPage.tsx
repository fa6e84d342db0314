import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { AlertState } from '../../shared/contract/words.ts';
import { useAddress } from '../address/useAddress.ts';
import { groupsQuestion } from '../api/alarmQuestions.ts';
import { alertsQuestion, roundQuestion } from '../api/questions.ts';
import { FindField } from '../frame/FindField.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { SIGNATURE_TITLE, STATE_MEANING } from '../notation/words.ts';
import { words } from '../strings/alertList.ts';
import { AlertList } from './AlertList.tsx';
import { AsideLists } from './AsideLists.tsx';
import {
  type AlertsAddress,
  alertsCodec,
  askedOf,
  PRIORITY_CHOICES,
  SIGNATURE_CHOICES,
  STATE_CHOICES,
} from './address.ts';
import { countAside, entriesOf, groupsFrom, partedBy } from './entries.ts';
import { isOpen, isPutAside, mayAcknowledge } from './moves.ts';

/** The sentence at the head of the list. */
export function alertsSentence(alerts: readonly Alert[], address: AlertsAddress): string {
  const open = alerts.filter((alert) => isOpen(alert.state));
  const waiting = open.filter((alert) => mayAcknowledge(alert.state)).length;
  const aside = open.filter((alert) => isPutAside(alert.state)).length;
  if (address.state !== 'open') return words.ofWhichStillOpen(alerts.length, open.length);
  if (open.length === 0) return words.noAlertIsOpen;
  if (aside === open.length) return words.openAndAllArePut(open.length);
  const nobody =
    waiting === 0
      ? words.somebodyKnows
      : waiting === open.length - aside
        ? words.nobodyHasAcknowledgedAny
        : words.ofThemNobodyHasAcknowledged(waiting);
  const calling = words.open(open.length, nobody);
  return aside === 0 ? `${calling}.` : words.putAside(calling, aside);
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
  useTitle(words.alerts);
  const [address, change] = useAddress(alertsCodec);
  const question = useQuery(alertsQuestion(askedOf(address)));
  const { data: round } = useQuery(roundQuestion);
  const names = new Map(round?.areas.flatMap((area) => area.chambers.map(({ id, name }) => [id, name] as const)) ?? []);
  const nameOf = (id: string) => names.get(id) ?? id;
  const found = (question.data?.alerts ?? []).filter((alert) => isFound(alert, address, nameOf(alert.chamber)));
  const groups = useQuery(groupsQuestion(groupsFrom(found)));
  const lists = partedBy(found);
  // Who asks for one state gets one list; the open ones are parted into those that call and those that do not.
  const parted = address.state === 'open' && countAside(lists) > 0;
  const entries = entriesOf(parted ? lists.calling : found, groups.data?.groups ?? []);
  return (
    <>
      <Head
        margin={
          <>
            {words.alerts}
            <br />
            {words.worstFirst}
          </>
        }
      >
        <h1 className="verdict">{question.data ? alertsSentence(found, address) : words.alerts}</h1>
        <p className="facts">
          <span>
            <Link href="/rationalisation">{words.whyEachKindIsRaised}</Link>
          </span>
          <span>
            <Link href="/performance">{words.howWellTheAlertsThemselves}</Link>
          </span>
        </p>
      </Head>
      <Section>
        <Filters address={address} change={change} />
        {groups.isError ? <p className="note">{words.whichAlertsBelongTogether}</p> : null}
      </Section>
      {question.data === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what={words.theAlerts} lines={8}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {question.data && found.length === 0 ? (
        <Section className="sec">
          <p className="say">{words.nothingHereFitsWhatYou}</p>
          <p className="note">{words.alertsThatAreOver}</p>
        </Section>
      ) : null}
      <AlertList entries={entries} nameOf={nameOf} />
      {parted ? <AsideLists lists={lists} nameOf={nameOf} /> : null}
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
        hint={words.chamberGasWords}
        find={(find) => change({ find }, 'replace')}
      />
      <Choice
        name={words.state}
        value={address.state}
        options={STATE_CHOICES}
        word={(state) => (state in STATE_MEANING ? `${state}: ${STATE_MEANING[state as AlertState]}` : state)}
        choose={(state) => change({ state })}
      />
      <Choice
        name={words.priority}
        value={address.priority}
        options={PRIORITY_CHOICES}
        choose={(priority) => change({ priority })}
      />
      <Choice
        name={words.about}
        value={address.signature}
        options={SIGNATURE_CHOICES}
        word={(signature) => (signature === 'all' ? 'all' : SIGNATURE_TITLE[signature])}
        choose={(signature) => change({ signature })}
      />
      {address.chamber ? (
        <button type="button" onClick={() => change({ chamber: '' })}>
          {words.onlyShowAllChambers(address.chamber)}
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
