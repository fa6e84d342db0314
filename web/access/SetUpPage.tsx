import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import type { Session } from '../../shared/contract/access.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { setUp } from '../api/moves.ts';
import { useTitle } from '../frame/title.ts';
import { Door } from './Door.tsx';

const LEAST_PASSWORD = 12;

/** Behind the one-time link that the first start prints: makes the first account and signs it in. */
export function SetUpPage({ session }: { readonly session: Session }) {
  useTitle('Set-up');
  const key = new URLSearchParams(useSearch()).get('key') ?? '';
  return (
    <Door session={session} margin="Set-up">
      {key === '' ? (
        <>
          <h1 className="verdict">The set-up link is not whole: its key is missing.</h1>
          <p className="say">Copy the whole line that the first start printed.</p>
        </>
      ) : session.needsSetUp ? (
        <>
          <h1 className="verdict">Make the first account. It may do everything, and add the others.</h1>
          <SetUpForm linkKey={key} />
        </>
      ) : (
        <>
          <h1 className="verdict">This site is set up already.</h1>
          <p className="say">
            <Link href="/sign-in">Sign in</Link>, or ask an admin for an account.
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
      <label>
        Your name, as others know you
        <input
          value={person.name}
          required
          maxLength={120}
          autoComplete="name"
          onChange={(e) => set({ name: e.target.value })}
        />
      </label>
      <label>
        Login
        <input
          value={person.login}
          required
          maxLength={64}
          pattern="[A-Za-z0-9][A-Za-z0-9._@\-]*"
          title="letters, digits, dot, dash, underscore or @"
          autoComplete="username"
          autoCapitalize="none"
          spellCheck={false}
          onChange={(e) => set({ login: e.target.value })}
        />
      </label>
      <label>
        Password (at least {LEAST_PASSWORD} signs)
        <input
          type="password"
          value={person.password}
          required
          minLength={LEAST_PASSWORD}
          maxLength={256}
          autoComplete="new-password"
          onChange={(e) => set({ password: e.target.value })}
        />
      </label>
      <div className="does">
        <button type="submit" className="main" disabled={making.isPending}>
          {making.isPending ? <Sending word="Making…" /> : 'Make the account'}
        </button>
      </div>
      <Refused text={making.error ? refusalText(making.error) : null} />
    </form>
  );
}
