import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useId, useState } from 'react';
import { ROLES, type Role } from '../../shared/contract/words.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { makeToken } from '../api/moves.ts';
import { ROLE_MAY } from '../notation/words.ts';
import { CopyButton, Curl } from './Curl.tsx';

interface TokenFormProps {
  readonly analysers: readonly string[];
}

/** Analysers as a person writes them: parted by commas, spaces or lines. */
export const namedAnalysers = (text: string): string[] => [...new Set(text.split(/[\s,]+/).filter((id) => id !== ''))];

export function TokenForm({ analysers }: TokenFormProps) {
  const client = useQueryClient();
  const list = useId();
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('gateway');
  const [only, setOnly] = useState('');
  const named = namedAnalysers(only);
  const unknown = named.filter((id) => !analysers.includes(id));
  const making = useMutation({
    mutationFn: () =>
      makeToken(role === 'gateway' && named.length > 0 ? { name, role, analysers: named } : { name, role }),
    onSuccess: () => client.invalidateQueries({ queryKey: ['tokens'] }),
  });
  const send = (event: FormEvent) => {
    event.preventDefault();
    making.mutate();
  };
  return (
    <>
      <form className="do" onSubmit={send}>
        <div className="two">
          <label>
            Name (who or what uses it)
            <input value={name} required maxLength={120} onChange={(event) => setName(event.target.value)} />
          </label>
          <label>
            Role
            <select value={role} onChange={(event) => setRole(event.target.value as Role)}>
              {ROLES.map((word) => (
                <option key={word} value={word}>
                  {word}: {ROLE_MAY[word]}
                </option>
              ))}
            </select>
          </label>
        </div>
        {role === 'gateway' ? (
          <label>
            Analysers it may send for (empty: all of the fleet)
            <input
              value={only}
              list={list}
              placeholder={analysers.slice(0, 2).join(', ')}
              onChange={(event) => setOnly(event.target.value)}
            />
            <datalist id={list}>
              {analysers.slice(0, 500).map((id) => (
                <option key={id} value={id} />
              ))}
            </datalist>
          </label>
        ) : null}
        {unknown.length > 0 ? <p className="note">Not in the fleet: {unknown.join(', ')}.</p> : null}
        <div className="does">
          <button type="submit" disabled={making.isPending}>
            {making.isPending ? <Sending word="Making…" /> : 'Make a token'}
          </button>
        </div>
        <Refused text={making.error ? refusalText(making.error) : null} />
      </form>
      {making.data ? (
        <div className="once" role="status">
          <p className="say">This is the token. It is shown once: keep it now.</p>
          <p className="code token">{making.data.token}</p>
          <CopyButton text={making.data.token} what="the token" />
          {role === 'gateway' ? (
            <>
              <p>One scan with it, to copy as it is:</p>
              <Curl token={making.data.token} analyser={named[0] ?? analysers[0] ?? 'ANALYSER-ID'} />
            </>
          ) : null}
        </div>
      ) : null}
    </>
  );
}
