import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useId, useState } from 'react';
import { ROLES, type Role } from '../../shared/contract/words.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { makeToken } from '../api/moves.ts';
import { ROLE_MAY } from '../notation/words.ts';
import { words } from '../strings/fleet.ts';
import { CopyButton, Curl } from './Curl.tsx';

interface TokenFormProps {
  readonly analysers: readonly string[];
  /** Takes over the command for a first scan; without it the form shows one itself. */
  readonly onGateway?: (token: string, analyser: string | undefined) => void;
}

/** Analysers as a person writes them: parted by commas, spaces or lines. */
export const namedAnalysers = (text: string): string[] => [...new Set(text.split(/[\s,]+/).filter((id) => id !== ''))];

export function TokenForm({ analysers, onGateway }: TokenFormProps) {
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
    onSuccess: ({ token }) => {
      if (role === 'gateway') onGateway?.(token, named[0] ?? analysers[0]);
      return client.invalidateQueries({ queryKey: ['tokens'] });
    },
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
            {words.tokenName}
            <input value={name} required maxLength={120} onChange={(event) => setName(event.target.value)} />
          </label>
          <label>
            {words.role}
            <select value={role} onChange={(event) => setRole(event.target.value as Role)}>
              {ROLES.map((word) => (
                <option key={word} value={word}>
                  {words.roleMay(word, ROLE_MAY[word])}
                </option>
              ))}
            </select>
          </label>
        </div>
        {role === 'gateway' ? (
          <label>
            {words.onlyFor}
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
        {unknown.length > 0 ? <p className="note">{words.notInFleet(unknown.join(', '))}</p> : null}
        <div className="does">
          <button type="submit" disabled={making.isPending}>
            {making.isPending ? <Sending word={words.making} /> : words.makeToken}
          </button>
        </div>
        <Refused text={making.error ? refusalText(making.error) : null} />
      </form>
      {making.data ? (
        <div className="once" role="status">
          <p className="say">{words.shownOnce}</p>
          <p className="code token">{making.data.token}</p>
          <CopyButton text={making.data.token} word={words.copyToken} />
          {role === 'gateway' && !onGateway ? (
            <>
              <p>{words.oneScan}</p>
              <Curl token={making.data.token} analyser={named[0] ?? analysers[0] ?? 'ANALYSER-ID'} />
            </>
          ) : null}
        </div>
      ) : null}
    </>
  );
}
