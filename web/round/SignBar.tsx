import { useState } from 'react';
import { Refused } from '../alerts/AcknowledgeForm.tsx';
import { signRound } from '../api/roundMoves.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay, useSession } from '../frame/site.ts';
import { Rich } from '../strings/Rich.tsx';
import { words } from '../strings/round.ts';
import { forgetOpened, useOpened } from './opened.ts';
import { type AreaRows, needALook } from './rows.ts';
import { useRoundMove } from './useRoundMove.ts';

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
  const { who } = useSession();
  const may = useMay('operator');
  const opened = useOpened();
  const [note, setNote] = useState('');
  const need = needALook(areas);
  const seen = need.filter((line) => opened.has(line.id)).length;
  const signing = useRoundMove(
    () =>
      signAll(
        areas.map((rows) => rows.area.id),
        note.trim(),
      ),
    () => {
      setNote('');
      forgetOpened();
    },
  );
  const sign = () => {
    if (may) signing.run();
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
          <button type="button" className="main" disabled={!may || signing.busy} onClick={sign}>
            {signing.busy ? words.signing : words.signAs(who?.name ?? '')} <Key name="Shift ↵" />
          </button>
        ) : null}
        <p className="result" role="status">
          {signing.result ? words.signed(signing.result.length) : null}
        </p>
        <div className="result">
          <Refused text={signing.refused} />
        </div>
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
