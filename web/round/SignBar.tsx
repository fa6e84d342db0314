import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { refusalText } from '../alerts/useMove.ts';
import { signRound } from '../api/roundMoves.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay, useSession } from '../frame/site.ts';
import { Rich } from '../strings/Rich.tsx';
import { words } from '../strings/round.ts';
import { forgetOpened, useOpened } from './opened.ts';
import { type AreaRows, needALook } from './rows.ts';

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
    onSettled: () =>
      Promise.all(['round', 'rounds', 'handover'].map((key) => client.invalidateQueries({ queryKey: [key] }))),
  });
  const sign = () => {
    if (may && !signing.isPending) signing.mutate();
  };
  useKeys({ 'shift+enter': sign });
  return (
    <footer className="blk sign">
      <div className="m">
        <div className="txt">
          <b>{words.sign}</b>
          <br />
          {words.signs(areas.length)}
        </div>
      </div>
      <div className="c">
        <span className="note hide">
          <Looked seen={seen} need={need.length} />
        </span>
        {may ? (
          <input
            className="field"
            aria-label={words.noteField}
            placeholder={words.noteHint}
            value={note}
            maxLength={4000}
            onChange={(event) => setNote(event.target.value)}
            onKeyDown={(event) => {
              if (event.key === 'Enter' && event.shiftKey) sign();
            }}
          />
        ) : (
          <span className="note field">{words.mayLook}</span>
        )}
        {/* Nobody stands at a display on a wall who could ask for more. */}
        {may || who?.kind === 'person' ? (
          <button type="button" className="main" disabled={!may || signing.isPending} onClick={sign}>
            {signing.isPending ? words.signing : words.signAs(who?.name ?? '')} <Key name="Shift ↵" />
          </button>
        ) : null}
        <p className="result" role="status">
          {signing.isError ? <b>{refusalText(signing.error)}</b> : null}
          {signing.isSuccess ? words.signed(signing.data.length) : null}
        </p>
      </div>
    </footer>
  );
}

function Looked({ seen, need }: { readonly seen: number; readonly need: number }) {
  if (need === 0) return <>{words.nothingToLook}</>;
  return (
    <Rich text={words.looked(seen, need)} parts={{ n: (inner) => <b className="ink2">{inner}</b>, br: () => <br /> }} />
  );
}
