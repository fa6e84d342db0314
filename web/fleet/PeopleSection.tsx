import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { PersonLine } from '../../shared/contract/access.ts';
import { AccountFields, LEAST_PASSWORD } from '../access/AccountFields.tsx';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { addPerson, changePerson } from '../api/moves.ts';
import { peopleQuestion } from '../api/questions.ts';
import { Age } from '../frame/Age.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useSession } from '../frame/site.ts';
import { ROLE_MAY } from '../notation/words.ts';
import { words } from '../strings/fleet.ts';
import { Rich } from '../strings/Rich.tsx';

const ROLES = ['viewer', 'operator', 'engineer', 'admin'] as const;
type PeopleRole = (typeof ROLES)[number];

export function PeopleSection() {
  const question = useQuery(peopleQuestion);
  return (
    <Section className="sec last" margin={words.peopleMargin}>
      <h2>{words.people}</h2>
      <Answered question={question} what={words.thePeople}>
        {({ people }) => (
          <div className="scrolls">
            <table className="keepers">
              <thead>
                <tr>
                  <th scope="col">{words.name}</th>
                  <th scope="col">{words.login}</th>
                  <th scope="col">{words.role}</th>
                  <th scope="col">{words.lastSeen}</th>
                  <td />
                </tr>
              </thead>
              <tbody>
                {people.map((person) => (
                  <PersonRow key={person.login} person={person} />
                ))}
              </tbody>
            </table>
          </div>
        )}
      </Answered>
      <h3>{words.addPerson}</h3>
      <PersonForm />
    </Section>
  );
}

function PersonRow({ person }: { readonly person: PersonLine }) {
  const client = useQueryClient();
  const { who } = useSession();
  const change = useMutation({
    mutationFn: (body: Readonly<Record<string, unknown>>) => changePerson(person.login, body),
    onSettled: () => client.invalidateQueries({ queryKey: ['people'] }),
  });
  const own = who?.login === person.login;
  return (
    <tr>
      <th scope="row">{person.name}</th>
      <td className="code">{person.login}</td>
      <td className="wide">
        <select
          aria-label={words.roleOf(person.name)}
          value={person.role}
          disabled={own || change.isPending}
          onChange={(event) => change.mutate({ role: event.target.value })}
        >
          {ROLES.map((role) => (
            <option key={role} value={role}>
              {words.roleMay(role, ROLE_MAY[role])}
            </option>
          ))}
        </select>
      </td>
      <td className="num" data-title={words.lastSeen}>
        {person.lastSeenAt ? <Age at={person.lastSeenAt} /> : words.never}
      </td>
      <td>
        {own ? (
          <span className="note">{words.you}</span>
        ) : (
          <button type="button" disabled={change.isPending} onClick={() => change.mutate({ retired: true })}>
            <Rich text={words.retire} parts={{ name: () => <span className="unseen">{person.name}</span> }} />
          </button>
        )}
        <Refused text={change.error ? refusalText(change.error) : null} />
      </td>
    </tr>
  );
}

const EMPTY = { name: '', login: '', role: 'operator' as PeopleRole, password: '' };

function PersonForm() {
  const client = useQueryClient();
  const [person, setPerson] = useState(EMPTY);
  const adding = useMutation({
    mutationFn: () => addPerson(person),
    onSuccess: () => {
      setPerson(EMPTY);
      void client.invalidateQueries({ queryKey: ['people'] });
    },
  });
  const set = (part: Partial<typeof EMPTY>) => setPerson({ ...person, ...part });
  const send = (event: FormEvent) => {
    event.preventDefault();
    adding.mutate();
  };
  return (
    <form className="do" onSubmit={send}>
      <div className="two">
        <AccountFields
          account={person}
          set={set}
          labels={{ name: words.name, login: words.login, password: words.firstPassword(LEAST_PASSWORD) }}
        />
        <label>
          {words.role}
          <select value={person.role} onChange={(e) => set({ role: e.target.value as PeopleRole })}>
            {ROLES.map((role) => (
              <option key={role} value={role}>
                {words.roleMay(role, ROLE_MAY[role])}
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="does">
        <button type="submit" disabled={adding.isPending}>
          {adding.isPending ? <Sending word={words.adding} /> : words.addPerson}
        </button>
        {adding.isSuccess ? <span role="status">{words.added}</span> : null}
      </div>
      <Refused text={adding.error ? refusalText(adding.error) : null} />
    </form>
  );
}
