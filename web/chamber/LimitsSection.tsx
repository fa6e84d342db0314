import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { Limit } from '../../shared/contract/round.ts';
import { PRIORITIES, type Priority } from '../../shared/contract/words.ts';
import { fromPascal, type PressureUnit, toPascal } from '../../shared/units.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { putLimits } from '../api/moves.ts';
import { limitsQuestion } from '../api/questions.ts';
import type { ChamberDetail } from '../api/shapes.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useMay, useUnit } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { pressure } from '../notation/pressure.ts';
import { REHEARSED_DAYS, RehearsalPanel } from '../rehearsal/RehearsalPanel.tsx';
import { words } from '../strings/chamber.ts';
import type { ChamberParts } from './parts.ts';

/** A row as it is typed. */
export interface LimitRow {
  readonly gas: string;
  readonly pressure: string;
  readonly priority: Priority;
  readonly note: string;
}

export const rowOf = (limit: Limit, unit: PressureUnit): LimitRow => ({
  gas: limit.gas,
  pressure: String(Number(fromPascal(limit.limitPa, unit).toPrecision(6))),
  priority: limit.priority,
  note: limit.note ?? '',
});

/** Rows without a gas are left out; null when a pressure is not a positive number. */
export function limitsFrom(rows: readonly LimitRow[], unit: PressureUnit): Limit[] | null {
  const limits: Limit[] = [];
  for (const row of rows) {
    if (row.gas.trim() === '') continue;
    const value = Number(row.pressure.replace(',', '.'));
    if (!(value > 0) || !Number.isFinite(value)) return null;
    const note = row.note.trim();
    limits.push({
      gas: row.gas.trim(),
      limitPa: toPascal(value, unit),
      priority: row.priority,
      ...(note === '' ? {} : { note }),
    });
  }
  return limits;
}

type LimitsSectionProps = Pick<ChamberParts, 'chamber' | 'address' | 'change'>;

export function LimitsSection({ chamber, address, change }: LimitsSectionProps) {
  const question = useQuery(limitsQuestion(chamber.id));
  const engineer = useMay('engineer');
  // Whoever comes back to a rehearsal finds the form that it belongs to.
  const [editing, setEditing] = useState(address.rehearsal !== '');
  return (
    <Section className="sec" margin={words.setByAPersonWatched}>
      <h2>{words.limits}</h2>
      <Answered question={question} what={words.theLimits}>
        {({ limits }) =>
          editing ? (
            <LimitsForm
              chamber={chamber}
              limits={limits}
              rehearsal={address.rehearsal}
              show={(rehearsal) => change({ rehearsal }, 'replace')}
              done={() => {
                setEditing(false);
                change({ rehearsal: '' }, 'replace');
              }}
            />
          ) : (
            <>
              <LimitList limits={limits} />
              {engineer ? (
                <div className="does">
                  <button type="button" onClick={() => setEditing(true)}>
                    {limits.length === 0 ? words.setALimit : words.changeLimits}
                  </button>
                </div>
              ) : (
                <p className="note">{words.changingLimitsNeedsTheRole}</p>
              )}
            </>
          )
        }
      </Answered>
    </Section>
  );
}

function LimitList({ limits }: { readonly limits: readonly Limit[] }) {
  const unit = useUnit();
  if (limits.length === 0) return <p className="note">{words.noLimitIsSet}</p>;
  return (
    <table className="limits">
      <thead>
        <tr>
          <th scope="col">{words.gas}</th>
          <th scope="col">{words.atMost}</th>
          <th scope="col">{words.priority}</th>
          <th scope="col">{words.why}</th>
        </tr>
      </thead>
      <tbody>
        {limits.map((limit) => (
          <tr key={limit.gas}>
            <th scope="row">{gasTitle(limit.gas)}</th>
            <td className="num">{pressure(limit.limitPa, unit)}</td>
            <td>{limit.priority}</td>
            <td>{limit.note ?? ''}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const EMPTY_ROW: LimitRow = { gas: '', pressure: '', priority: 'medium', note: '' };

interface LimitsFormProps {
  readonly chamber: ChamberDetail;
  readonly limits: readonly Limit[];
  readonly rehearsal: string;
  readonly show: (rehearsal: string) => void;
  readonly done: () => void;
}

function LimitsForm({ chamber, limits, rehearsal, show, done }: LimitsFormProps) {
  const client = useQueryClient();
  const unit = useUnit();
  const [rows, setRows] = useState<readonly LimitRow[]>(() => [
    ...limits.map((limit) => rowOf(limit, unit)),
    EMPTY_ROW,
  ]);
  const typed = limitsFrom(rows, unit);
  const saving = useMutation({
    mutationFn: (next: readonly Limit[]) => putLimits(chamber.id, next),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['chamber', chamber.id] });
      done();
    },
  });
  const set = (at: number, part: Partial<LimitRow>) =>
    setRows(rows.map((row, i) => (i === at ? { ...row, ...part } : row)));
  const save = (event: FormEvent) => {
    event.preventDefault();
    if (typed) saving.mutate(typed);
  };
  return (
    <form className="do" onSubmit={save}>
      {rows.map((row, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: rows have no identity but their place
        <div className="limit-row" key={i}>
          <label>
            {words.gas}
            <input value={row.gas} list="gases-known" onChange={(e) => set(i, { gas: e.target.value })} />
          </label>
          <label>
            {words.atMostIn(unit)}
            <input inputMode="decimal" value={row.pressure} onChange={(e) => set(i, { pressure: e.target.value })} />
          </label>
          <label>
            {words.priority}
            <select value={row.priority} onChange={(e) => set(i, { priority: e.target.value as Priority })}>
              {PRIORITIES.map((word) => (
                <option key={word}>{word}</option>
              ))}
            </select>
          </label>
          <label>
            {words.why}
            <input value={row.note} maxLength={500} onChange={(e) => set(i, { note: e.target.value })} />
          </label>
          <button type="button" onClick={() => setRows(rows.filter((_, at) => at !== i))}>
            {words.remove}
          </button>
        </div>
      ))}
      <datalist id="gases-known">
        {Object.keys(chamber.gases).map((gas) => (
          <option key={gas} value={gas} />
        ))}
      </datalist>
      <RehearsalPanel
        request={
          typed === null
            ? null
            : { chamber: chamber.id, days: REHEARSED_DAYS, change: { kind: 'limits', limits: typed } }
        }
        because={words.aLimitIsAPressure}
        id={rehearsal}
        show={show}
      />
      <div className="does">
        <button type="submit" className="main" disabled={typed === null || saving.isPending}>
          {saving.isPending ? <Sending word={words.saving} /> : words.saveTheLimits}
        </button>
        <button type="button" onClick={() => setRows([...rows, EMPTY_ROW])}>
          {words.addARow}
        </button>
        <button type="button" onClick={done}>
          {words.leaveAsItWas}
        </button>
        {typed === null ? <span className="note">{words.aLimitIs}</span> : null}
      </div>
      <Refused text={saving.error ? refusalText(saving.error) : null} />
    </form>
  );
}
