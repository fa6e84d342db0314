import { useState } from 'react';
import { Link } from 'wouter';
import { useNow } from '../frame/clock.ts';
import { Section } from '../frame/Section.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/handover.ts';
import { Rich } from '../strings/Rich.tsx';
import { CountersignForm } from './CountersignForm.tsx';
import type { AreaRows } from './rows.ts';

interface Waiting {
  readonly id: string;
  readonly area: string;
  readonly by: string;
  readonly at: string;
}

export const waitingOf = (areas: readonly AreaRows[]): readonly Waiting[] =>
  areas.flatMap(({ area: { name, lastSigned } }) =>
    lastSigned && lastSigned.countersigned === null
      ? [{ id: lastSigned.id, area: name, by: lastSigned.by, at: lastSigned.at }]
      : [],
  );

/** More lines than this would push the chambers off the screen. */
const MOST_SAID = 3;
/** Signed by one person within this time: one act, said once. */
const ONE_ACT_MS = 60_000;

interface Act {
  readonly rounds: readonly Waiting[];
  readonly by: string;
  readonly at: string;
}

/** A person signs all areas that are shown at once: that is said once. */
export function actsOf(waiting: readonly Waiting[]): readonly Act[] {
  const acts: { rounds: Waiting[]; by: string; at: string }[] = [];
  for (const round of waiting) {
    const act = acts.find(
      ({ by, at }) => by === round.by && Math.abs(Date.parse(at) - Date.parse(round.at)) < ONE_ACT_MS,
    );
    if (act) act.rounds.push(round);
    else acts.push({ rounds: [round], by: round.by, at: round.at });
  }
  return acts;
}

const actSaid = ({ by, rounds }: Act, when: string): string =>
  rounds.length > MOST_SAID
    ? words.waitsForSeveral(by, rounds.length, when)
    : words.waits(
        by,
        rounds.map(({ area }) => area),
        when,
      );

/** Whoever comes takes over what was signed: said at the head of the round until it is done. */
export function TakeOver({ areas }: { readonly areas: readonly AreaRows[] }) {
  const [open, setOpen] = useState(false);
  const zone = useZone();
  const now = useNow(30);
  const waiting = waitingOf(areas);
  if (waiting.length === 0) return null;
  const acts = actsOf(waiting);
  return (
    <Section className="takeover">
      {acts.length > MOST_SAID ? (
        <p>
          {words.waitsMany(waiting.length)} <Link href="/rounds">{words.allRounds}</Link>
        </p>
      ) : (
        acts.map((act) => (
          <p key={act.rounds[0]?.id}>
            <Rich
              text={actSaid(act, moment(Date.parse(act.at), zone, now))}
              parts={{
                round: (inner) => <Link href={`/rounds/${encodeURIComponent(act.rounds[0]?.id ?? '')}`}>{inner}</Link>,
              }}
            />
          </p>
        ))
      )}
      {open ? (
        <CountersignForm
          rounds={waiting.map(({ id }) => id)}
          signers={waiting.map(({ by }) => by)}
          cancel={() => setOpen(false)}
        />
      ) : (
        <button type="button" onClick={() => setOpen(true)}>
          {words.takeOver}
        </button>
      )}
    </Section>
  );
}
