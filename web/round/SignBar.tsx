import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { refusalText } from '../alerts/useMove.ts';
import { signRound } from '../api/moves.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay, useSession } from '../frame/site.ts';
import { several } from '../notation/sentence.ts';
import { forgetOpened, useOpened } from './opened.ts';
import { type AreaRows, needALook } from './rows.ts';

const areaWords = (n: number): string => (n === 1 ? 'one area' : n === 2 ? 'both areas' : `all ${n} areas`);

/** Signs every area that is shown, one by one: what was signed stays signed when a later one is refused. */
async function signAll(areas: readonly string[], note: string): Promise<string[]> {
  const signed: string[] = [];
  for (const area of areas) {
    await signRound(area, note);
    signed.push(area);
  }
  return signed;
}

export function SignBar({ areas }: { readonly areas: readonly AreaRows[] }) {
  const client = useQueryClient();
  const { who } = useSession();
  const may = useMay('operator');
  const opened = useOpened();
  const [note, setNote] = useState('');
  const need = needALook(areas);
  const seen = need.filter((line) => opened.has(line.id)).length;
  const signing = useMutation({
    mutationFn: () =>
      signAll(
        areas.map((rows) => rows.area.id),
        note.trim(),
      ),
    onSuccess: () => {
      setNote('');
      forgetOpened();
    },
    onSettled: () => client.invalidateQueries({ queryKey: ['round'] }),
  });
  const sign = () => {
    if (may && !signing.isPending) signing.mutate();
  };
  useKeys({ 'shift+enter': sign });
  return (
    <footer className="blk sign">
      <div className="m">
        <div className="txt">
          <b>Sign the round</b>
          <br />
          {areaWords(areas.length)}
        </div>
      </div>
      <div className="c">
        <span className="note hide">
          <Looked seen={seen} need={need.length} />
        </span>
        {may ? (
          <input
            className="field"
            aria-label="Note for the handover"
            placeholder="Note for the handover: what was done, what was promised"
            value={note}
            maxLength={4000}
            onChange={(event) => setNote(event.target.value)}
            onKeyDown={(event) => {
              if (event.key === 'Enter' && event.shiftKey) sign();
            }}
          />
        ) : (
          <span className="note field">You may look, not sign: signing needs the role operator; ask an admin.</span>
        )}
        <button type="button" className="main" disabled={!may || signing.isPending} onClick={sign}>
          {signing.isPending ? 'Signing…' : `Sign as ${who?.name ?? ''}`} <Key name="Shift ↵" />
        </button>
        <p className="result" role="status">
          {signing.isError ? <b>{refusalText(signing.error)}</b> : null}
          {signing.isSuccess ? `Signed: ${several(signing.data.length, 'area')}.` : null}
        </p>
      </div>
    </footer>
  );
}

function Looked({ seen, need }: { readonly seen: number; readonly need: number }) {
  if (need === 0) return <>Nothing needs a look.</>;
  return (
    <>
      You have opened{' '}
      <b className="ink2">
        {seen} of {need}
      </b>{' '}
      that need a look;
      <br />
      unsigned rows stay on the next shift’s page.
    </>
  );
}
