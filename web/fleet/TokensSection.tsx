import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { TokenLine } from '../../shared/contract/access.ts';
import { Refused } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { revokeToken } from '../api/moves.ts';
import { tokensQuestion } from '../api/questions.ts';
import { Age } from '../frame/Age.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { TokenForm } from './TokenForm.tsx';

export function TokensSection({ analysers }: { readonly analysers: readonly string[] }) {
  const question = useQuery(tokensQuestion);
  return (
    <Section
      className="sec"
      margin={
        <>
          a token is a key for a program
          <br />
          kept as a hash only
        </>
      }
    >
      <h2>Tokens</h2>
      <Answered question={question} what="The tokens">
        {({ tokens }) =>
          tokens.length === 0 ? (
            <p className="note">No token has been made yet. A gateway needs one to send scans.</p>
          ) : (
            <div className="scrolls">
              <table>
                <thead>
                  <tr>
                    <th scope="col">Name</th>
                    <th scope="col">Role</th>
                    <th scope="col">Analysers</th>
                    <th scope="col">Made</th>
                    <th scope="col">Last used</th>
                    <td />
                  </tr>
                </thead>
                <tbody>
                  {tokens.map((token) => (
                    <TokenRow key={token.id} token={token} />
                  ))}
                </tbody>
              </table>
            </div>
          )
        }
      </Answered>
      <h3>Make a token</h3>
      <TokenForm analysers={analysers} />
    </Section>
  );
}

function TokenRow({ token }: { readonly token: TokenLine }) {
  const client = useQueryClient();
  const [sure, setSure] = useState(false);
  const revoking = useMutation({
    mutationFn: () => revokeToken(token.id),
    onSettled: () => client.invalidateQueries({ queryKey: ['tokens'] }),
  });
  return (
    <tr>
      <th scope="row">{token.name}</th>
      <td>{token.role}</td>
      <td className="code ids">{token.analysers?.join(', ') ?? (token.role === 'gateway' ? 'all' : 'not bound')}</td>
      <td className="num">
        <Age at={token.createdAt} />
      </td>
      <td className="num">{token.lastUsedAt ? <Age at={token.lastUsedAt} /> : 'never'}</td>
      <td>
        {sure ? (
          <span className="does">
            <button type="button" disabled={revoking.isPending} onClick={() => revoking.mutate()}>
              Revoke {token.name} now
            </button>
            <button type="button" onClick={() => setSure(false)}>
              Keep
            </button>
          </span>
        ) : (
          <button type="button" onClick={() => setSure(true)}>
            Revoke <span className="unseen">{token.name}</span>
          </button>
        )}
        <Refused text={revoking.error ? refusalText(revoking.error) : null} />
      </td>
    </tr>
  );
}
