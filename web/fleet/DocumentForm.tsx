import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type ChangeEvent, useState } from 'react';
import type { FleetChange } from '../../shared/contract/fleet.ts';
import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { RefusedError } from '../api/ask.ts';
import { applyFleet } from '../api/moves.ts';
import { words } from '../strings/fleet.ts';
import { Rich } from '../strings/Rich.tsx';
import { ChangeList } from './ChangeList.tsx';

interface DocumentFormProps {
  readonly initial: string;
  readonly mayApply: boolean;
}

/** JSON that cannot be read never leaves the page: the parser says where it breaks. */
export function jsonFault(text: string): string | null {
  try {
    JSON.parse(text);
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : words.unreadable;
  }
}

/** Write or load a fleet document, see what it would change, then apply it. */
export function DocumentForm({ initial, mayApply }: DocumentFormProps) {
  const client = useQueryClient();
  const [text, setText] = useState(initial);
  const [tried, setTried] = useState<{ text: string; change: FleetChange } | null>(null);
  const fault = jsonFault(text);
  const dryRun = useMutation({
    mutationFn: () => applyFleet(text, true),
    onSuccess: (change) => setTried({ text, change }),
  });
  const apply = useMutation({
    mutationFn: () => applyFleet(text, false),
    onSuccess: () => {
      setTried(null);
      void client.invalidateQueries();
    },
  });
  const edit = (next: string) => {
    setText(next);
    dryRun.reset();
    apply.reset();
  };
  const load = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    if (file) edit(await file.text());
    event.target.value = '';
  };
  const shown = tried?.text === text ? tried.change : null;
  const busy = dryRun.isPending || apply.isPending;
  return (
    <div className="document">
      <label>
        {words.documentField}
        <textarea
          className="code"
          rows={14}
          spellCheck={false}
          value={text}
          readOnly={!mayApply}
          onChange={(event) => edit(event.target.value)}
        />
      </label>
      {mayApply ? (
        <div className="does">
          <button
            type="button"
            className={shown ? '' : 'main'}
            disabled={busy || fault !== null}
            onClick={() => dryRun.mutate()}
          >
            {dryRun.isPending ? <Sending word={words.looking} /> : words.look}
          </button>
          <button
            type="button"
            className={shown ? 'main' : ''}
            disabled={busy || shown === null}
            onClick={() => apply.mutate()}
          >
            {apply.isPending ? <Sending word={words.applying} /> : words.apply}
          </button>
          <label className="btn">
            {words.load}
            <input type="file" className="unseen" accept=".json,application/json" onChange={(e) => void load(e)} />
          </label>
          {shown === null && fault === null ? <span className="note">{words.applyOpens}</span> : null}
        </div>
      ) : (
        <p className="note">{words.applyNeeds}</p>
      )}
      {fault ? (
        <p className="refused" role="alert">
          {words.notJson(fault)}
        </p>
      ) : null}
      <Faults error={dryRun.error ?? apply.error} />
      {shown ? <ChangeList change={shown} /> : null}
      {apply.isSuccess ? <ChangeList change={apply.data} /> : null}
    </div>
  );
}

function Faults({ error }: { readonly error: unknown }) {
  if (!error) return null;
  const refusal = error instanceof RefusedError ? error : null;
  return (
    <div className="refused" role="alert">
      <p>{refusal?.message ?? words.brokenPage}</p>
      {refusal?.problem?.errors ? (
        <ul>
          {refusal.problem.errors.map(({ path, problem }) => (
            <li key={`${path} ${problem}`}>
              <Rich text={words.faultAt(problem)} parts={{ path: () => <span className="code">{path}</span> }} />
            </li>
          ))}
        </ul>
      ) : null}
      {refusal?.requestId ? <p className="note">{words.request(refusal.requestId)}</p> : null}
    </div>
  );
}
