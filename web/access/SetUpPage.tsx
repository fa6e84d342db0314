import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import type { Session } from '../../shared/contract/access.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { setUp } from '../api/moves.ts';
import { useTitle } from '../frame/title.ts';
import { words } from '../strings/access.ts';
import { Rich } from '../strings/Rich.tsx';
import { AccountFields, LEAST_PASSWORD } from './AccountFields.tsx';
import { Door } from './Door.tsx';

/** Behind the one-time link that the first start prints: makes the first account and signs it in. */
export function SetUpPage({ session }: { readonly session: Session }) {
  useTitle(words.setUpTitle);
  const key = new URLSearchParams(useSearch()).get('key') ?? '';
  return (
    <Door session={session} margin={words.setUpTitle}>
      {key === '' ? (
        <>
          <h1 className="verdict">{words.linkNotWhole}</h1>
          <p className="say">{words.copyWhole}</p>
        </>
      ) : session.needsSetUp ? (
        <>
          <h1 className="verdict">{words.makeFirst}</h1>
          <SetUpForm linkKey={key} />
        </>
      ) : (
        <>
          <h1 className="verdict">{words.setUpAlready}</h1>
          <p className="say">
            <Rich text={words.signInOrAsk} parts={{ link: (inner) => <Link href="/sign-in">{inner}</Link> }} />
          </p>
        </>
      )}
    </Door>
  );
}

function SetUpForm({ linkKey }: { readonly linkKey: string }) {
  const client = useQueryClient();
  const [, go] = useLocation();
  const [person, setPerson] = useState({ name: '', login: '', password: '' });
  const set = (part: Partial<typeof person>) => setPerson({ ...person, ...part });
  const making = useMutation({
    mutationFn: () => setUp({ key: linkKey, ...person, login: person.login.trim() }),
    onSuccess: async () => {
      await client.resetQueries({ queryKey: ['session'] });
      go('/', { replace: true });
    },
  });
  const send = (event: FormEvent) => {
    event.preventDefault();
    making.mutate();
  };
  return (
    <form className="do door" onSubmit={send}>
      <AccountFields
        account={person}
        set={set}
        labels={{ name: words.yourName, login: words.login, password: words.newPassword(LEAST_PASSWORD) }}
        own
      />
      <div className="does">
        <button type="submit" className="main" disabled={making.isPending}>
          {making.isPending ? <Sending word={words.making} /> : words.makeAccount}
        </button>
      </div>
      <Refused text={making.error ? refusalText(making.error) : null} />
    </form>
  );
}
