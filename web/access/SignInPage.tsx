import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Redirect, useLocation, useSearch } from 'wouter';
import type { Session } from '../../shared/contract/access.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { signIn, signInWithToken } from '../api/moves.ts';
import { useTitle } from '../frame/title.ts';
import { words } from '../strings/access.ts';
import { Door } from './Door.tsx';

/** Only paths of this page: a link from outside must not send a person who signs in somewhere else. */
export const safePath = (wanted: string | null): string =>
  wanted !== null && /^\/(?![/\\])/.test(wanted) && !wanted.startsWith('/sign-in') ? wanted : '/';

export function SignInPage({ session }: { readonly session: Session }) {
  useTitle(words.signInTitle);
  const wanted = safePath(new URLSearchParams(useSearch()).get('to'));
  if (session.who) return <Redirect to={wanted} replace />;
  return (
    <Door session={session} margin={words.signInTitle}>
      <h1 className="verdict">{session.needsSetUp ? words.noAccount : words.watchedHere(session.site.name)}</h1>
      {session.needsSetUp ? (
        <p className="say">{words.howToSetUp}</p>
      ) : (
        <>
          <PersonForm wanted={wanted} />
          <details className="otherdoor">
            <summary>{words.withToken}</summary>
            <TokenForm wanted={wanted} />
          </details>
        </>
      )}
    </Door>
  );
}

/** Who has entered is asked for anew, and the page that they wanted opens. */
function useEntering(enter: () => Promise<unknown>, wanted: string, refused: () => void) {
  const client = useQueryClient();
  const [, go] = useLocation();
  return useMutation({
    mutationFn: enter,
    onSuccess: async () => {
      await client.resetQueries({ queryKey: ['session'] });
      go(wanted);
    },
    onError: refused,
  });
}

const sending = (send: () => void) => (event: FormEvent) => {
  event.preventDefault();
  send();
};

function PersonForm({ wanted }: { readonly wanted: string }) {
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const entering = useEntering(
    () => signIn({ login: login.trim(), password }),
    wanted,
    () => setPassword(''),
  );
  return (
    <form className="do door" onSubmit={sending(entering.mutate)}>
      <label>
        {words.login}
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
        {words.password}
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
          {entering.isPending ? <Sending word={words.signingIn} /> : words.signIn}
        </button>
      </div>
      <Refused text={entering.error ? refusalText(entering.error) : null} />
    </form>
  );
}

/** The token goes into a field and from there to the server, never into an address that others see or keep. */
function TokenForm({ wanted }: { readonly wanted: string }) {
  const [token, setToken] = useState('');
  const entering = useEntering(
    () => signInWithToken(token.trim()),
    wanted,
    () => setToken(''),
  );
  return (
    <form className="do door" onSubmit={sending(entering.mutate)}>
      <p className="note">{words.displayIs}</p>
      <label>
        {words.token}
        <input
          type="password"
          value={token}
          required
          autoComplete="off"
          spellCheck={false}
          onChange={(event) => setToken(event.target.value)}
        />
      </label>
      <div className="does">
        <button type="submit" disabled={entering.isPending}>
          {entering.isPending ? <Sending word={words.signingIn} /> : words.signDisplayIn}
        </button>
      </div>
      <Refused text={entering.error ? refusalText(entering.error) : null} />
    </form>
  );
}
