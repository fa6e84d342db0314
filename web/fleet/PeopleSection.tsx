import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { PersonLine } from '../../shared/contract/access.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { addPerson, changePerson } from '../api/moves.ts';
import { peopleQuestion } from '../api/questions.ts';
import { Age } from '../frame/Age.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useSession } from '../frame/site.ts';
import { ROLE_MAY } from '../notation/words.ts';

const ROLES = ['viewer', 'operator', 'engineer', 'admin'] as const;
type PeopleRole = (typeof ROLES)[number];

export function PeopleSection() {
  const question = useQuery(peopleQuestion);
  return (
    <Section className="sec last" margin="who may sign in, and what they may do">
      <h2>People</h2>
      <Answered question={question} what="The people">
        {({ people }) => (
          <div className="scrolls">
            <table>
              <thead>
                <tr>
                  <th scope="col">Name</th>
                  <th scope="col">Login</th>
                  <th scope="col">Role</th>
                  <th scope="col">Last seen</th>
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
      <h3>Add a person</h3>
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
      <td>
        <select
          aria-label={`Role of ${person.name}`}
          value={person.role}
          disabled={own || change.isPending}
          onChange={(event) => change.mutate({ role: event.target.value })}
        >
          {ROLES.map((role) => (
            <option key={role} value={role}>
              {role}: {ROLE_MAY[role]}
            </option>
          ))}
        </select>
      </td>
      <td className="num">{person.lastSeenAt ? <Age at={person.lastSeenAt} /> : 'never'}</td>
      <td>
        {own ? (
          <span className="note">you</span>
        ) : (
          <button type="button" disabled={change.isPending} onClick={() => change.mutate({ retired: true })}>
            Retire <span className="unseen">{person.name}</span>
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
        <label>
          Name
          <input value={person.name} required maxLength={120} onChange={(e) => set({ name: e.target.value })} />
        </label>
        <label>
          Login
          <input
            value={person.login}
            required
            maxLength={64}
            autoComplete="off"
            onChange={(e) => set({ login: e.target.value })}
          />
        </label>
        <label>
          First password (at least 12 signs)
          <input
            type="password"
            value={person.password}
            required
            minLength={12}
            maxLength={256}
            autoComplete="new-password"
            onChange={(e) => set({ password: e.target.value })}
          />
        </label>
        <label>
          Role
          <select value={person.role} onChange={(e) => set({ role: e.target.value as PeopleRole })}>
            {ROLES.map((role) => (
              <option key={role} value={role}>
                {role}: {ROLE_MAY[role]}
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="does">
        <button type="submit" disabled={adding.isPending}>
          {adding.isPending ? <Sending word="Adding…" /> : 'Add a person'}
        </button>
        {adding.isSuccess ? <span role="status">Added.</span> : null}
      </div>
      <Refused text={adding.error ? refusalText(adding.error) : null} />
    </form>
  );
}
