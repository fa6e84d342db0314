import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Redirect, useLocation, useSearch } from 'wouter';
import type { Session } from '../../shared/contract/access.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { signIn } from '../api/moves.ts';
import { useTitle } from '../frame/title.ts';
import { Door } from './Door.tsx';

/** Only paths of this page: a link from outside must not send a person who signs in somewhere else. */
export const safePath = (wanted: string | null): string =>
  wanted !== null && /^\/(?![/\\])/.test(wanted) && !wanted.startsWith('/sign-in') ? wanted : '/';

export function SignInPage({ session }: { readonly session: Session }) {
  useTitle('Sign in');
  const client = useQueryClient();
  const [, go] = useLocation();
  const wanted = safePath(new URLSearchParams(useSearch()).get('to'));
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const entering = useMutation({
    mutationFn: () => signIn({ login: login.trim(), password }),
    onSuccess: async () => {
      await client.resetQueries({ queryKey: ['session'] });
      go(wanted);
    },
    onError: () => setPassword(''),
  });
  if (session.who) return <Redirect to={wanted} replace />;
  const send = (event: FormEvent) => {
    event.preventDefault();
    entering.mutate();
  };
  return (
    <Door session={session} margin="Sign in">
      <h1 className="verdict">
        {session.needsSetUp ? 'No account exists yet.' : `${session.site.name} is watched here. Say who you are.`}
      </h1>
      {session.needsSetUp ? (
        <p className="say">
          Open the set-up link that the first start printed: it makes the first account. It works once, for 24 hours; a
          start without accounts prints a new one.
        </p>
      ) : (
        <form className="do door" onSubmit={send}>
          <label>
            Login
            <input
              value={login}
              required
              autoComplete="username"
              autoCapitalize="none"
              spellCheck={false}
              onChange={(event) => setLogin(event.target.value)}
            />
          </label>
          <label>
            Password
            <input
              type="password"
              value={password}
              required
              autoComplete="current-password"
              onChange={(event) => setPassword(event.target.value)}
            />
          </label>
          <div className="does">
            <button type="submit" className="main" disabled={entering.isPending}>
              {entering.isPending ? <Sending word="Signing in…" /> : 'Sign in'}
            </button>
          </div>
          <Refused text={entering.error ? refusalText(entering.error) : null} />
        </form>
      )}
    </Door>
  );
}
