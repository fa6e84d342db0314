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
import { words } from '../strings/fleet.ts';
import { Rich } from '../strings/Rich.tsx';
import { TokenForm } from './TokenForm.tsx';

export function TokensSection({ analysers }: { readonly analysers: readonly string[] }) {
  const question = useQuery(tokensQuestion);
  return (
    <Section
      className="sec"
      margin={
        <>
          {words.tokensMargin}
          <br />
          {words.tokensKept}
        </>
      }
    >
      <h2>{words.tokens}</h2>
      <Answered question={question} what={words.theTokens}>
        {({ tokens }) =>
          tokens.length === 0 ? (
            <p className="note">{words.noToken}</p>
          ) : (
            <div className="scrolls">
              <table className="keepers">
                <thead>
                  <tr>
                    <th scope="col">{words.name}</th>
                    <th scope="col">{words.role}</th>
                    <th scope="col">{words.analysers}</th>
                    <th scope="col">{words.made}</th>
                    <th scope="col">{words.lastUsed}</th>
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
      <h3>{words.makeToken}</h3>
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
      <td className="code ids wide" data-title={words.analysers}>
        {token.analysers?.join(', ') ?? (token.role === 'gateway' ? words.allAnalysers : words.notBound)}
      </td>
      <td className="num" data-title={words.made}>
        <Age at={token.createdAt} />
      </td>
      <td className="num" data-title={words.lastUsed}>
        {token.lastUsedAt ? <Age at={token.lastUsedAt} /> : words.never}
      </td>
      <td className="wide">
        {sure ? (
          <span className="does">
            <button type="button" disabled={revoking.isPending} onClick={() => revoking.mutate()}>
              {words.revokeNow(token.name)}
            </button>
            <button type="button" onClick={() => setSure(false)}>
              {words.keep}
            </button>
          </span>
        ) : (
          <button type="button" onClick={() => setSure(true)}>
            <Rich text={words.revoke} parts={{ name: () => <span className="unseen">{token.name}</span> }} />
          </button>
        )}
        <Refused text={revoking.error ? refusalText(revoking.error) : null} />
      </td>
    </tr>
  );
}
