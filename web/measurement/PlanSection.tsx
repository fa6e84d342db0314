import { type UseQueryResult, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { Plan } from '../../shared/contract/plan.ts';
import { fromPascal, toPascal } from '../../shared/units.ts';
import { faultIn, isImpossible } from '../api/faults.ts';
import { planQuestion } from '../api/measurementQuestions.ts';
import { PlanChart } from '../charts/PlanChart.tsx';
import { useWidth } from '../charts/useWidth.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Answered, isMissing } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { scientific, thousands } from '../notation/number.ts';
import { pressure } from '../notation/pressure.ts';
import { words as all } from '../strings/analyser.ts';
import { Rich } from '../strings/Rich.tsx';
import type { AnalyserAddress } from './address.ts';
import { Field } from './Field.tsx';
import { planSays, secondsSaid } from './planSays.ts';
import { typedPositive } from './typed.ts';

const words = all.planSection;

interface PlanSectionProps {
  readonly measured: AnalyserMeasurement;
  readonly address: AnalyserAddress;
  readonly change: (part: Partial<AnalyserAddress>, how?: 'push' | 'replace') => void;
}

export function PlanSection({ measured, address, change }: PlanSectionProps) {
  const table = address.plan === 'table';
  const toggle = () => change({ plan: table ? 'chart' : 'table' });
  useKeys({ p: toggle });
  const gases = measured.floors.map(({ gas }) => gas);
  const gas = gases.includes(address.gas) ? address.gas : (gases.find((one) => one === 'N2') ?? gases[0] ?? '');
  const floor = measured.floors.find((line) => line.gas === gas)?.floor ?? measured.floor;
  const pressurePa = typedPositive(address.pressure) ?? (floor === null ? null : floor / 3);
  const asked = { analyser: measured.analyser, gas, pressurePa: pressurePa ?? 0 };
  const can = gas !== '' && pressurePa !== null;
  const question = useQuery({ ...planQuestion(asked), enabled: can });
  return (
    <Section className="sec" margin={<Rich text={words.fromThisAnalyserS} parts={{ br: () => <br /> }} />}>
      <div className="ph">
        <h2>{words.howLongToAverage}</h2>
        {can ? (
          <button type="button" aria-pressed={table} onClick={toggle}>
            {table ? words.asAPicture : words.asATable} <Key name="p" />
          </button>
        ) : null}
      </div>
      {!can ? (
        <p className="note">{words.thePlannerOpensWith}</p>
      ) : (
        <>
          <PlanFields gases={gases} gas={gas} pressurePa={asked.pressurePa} error={question.error} change={change} />
          <ThePlan question={question} table={table} />
        </>
      )}
    </Section>
  );
}

interface PlanFieldsProps {
  readonly gases: readonly string[];
  readonly gas: string;
  readonly pressurePa: number;
  /** What the server has against the question. */
  readonly error: unknown;
  readonly change: PlanSectionProps['change'];
}

function PlanFields({ gases, gas, pressurePa, error, change }: PlanFieldsProps) {
  const unit = useUnit();
  const given = String(Number(fromPascal(pressurePa, unit).toPrecision(3)));
  const [typed, setTyped] = useState(given);
  useEffect(() => setTyped(given), [given]);
  const value = typedPositive(typed);
  const apply = () => {
    if (value !== null && typed !== given) change({ pressure: String(Number(toPascal(value, unit).toPrecision(6))) });
  };
  return (
    <form
      className="plan-fields"
      onSubmit={(event) => {
        event.preventDefault();
        apply();
      }}
    >
      <Field label={words.toSee} fault={faultIn(error, 'gas')}>
        {(props) => (
          <select {...props} value={gas} onChange={(event) => change({ gas: event.target.value })}>
            {gases.map((one) => (
              <option key={one} value={one}>
                {gasTitle(one)}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={words.at(unit)} fault={value === null ? words.aPressureAboveZero : faultIn(error, 'pressure')}>
        {(props) => (
          <input
            {...props}
            inputMode="decimal"
            size={10}
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
            onBlur={apply}
          />
        )}
      </Field>
      <button type="submit" disabled={value === null}>
        {words.workItOut}
      </button>
    </form>
  );
}

function ThePlan({ question, table }: { readonly question: UseQueryResult<Plan>; readonly table: boolean }) {
  const unit = useUnit();
  if (isMissing(question.error)) return <p className="note">{(question.error as Error).message}</p>;
  // What is wrong stands at its field.
  if (isImpossible(question.error)) return null;
  return (
    <Answered question={question} what={words.thePlan} lines={4}>
      {(plan) => (
        <div className="plan-answer" aria-live="polite">
          <p className="say">{planSays(plan, unit)}</p>
          {plan.sweeps === null ? null : (
            <p className="note">
              <Sentence text={plan.because} />
            </p>
          )}
          {plan.curve.length === 0 ? null : table ? <PlanTable plan={plan} /> : <Picture plan={plan} />}
        </div>
      )}
    </Answered>
  );
}

function Picture({ plan }: { readonly plan: Plan }) {
  const unit = useUnit();
  const [box, width] = useWidth<HTMLDivElement>();
  const wanted = fromPascal(plan.pressure, unit);
  const inUnit = (value: number) => fromPascal(value, unit);
  const curve = plan.curve.map((point) => ({
    ...point,
    detectable: inUnit(point.detectable),
    white: inUnit(point.white),
  }));
  return (
    <>
      <div className="plotbox low" ref={box}>
        <div role="img" aria-label={words.whatCanBeSeen(planSays(plan, unit))}>
          <PlanChart
            curve={curve}
            wanted={wanted}
            wantedText={words.wanted(scientific(wanted), unit)}
            sweeps={plan.sweeps}
            bestSweeps={plan.bestSweeps}
            unit={unit}
            width={Math.max(260, Math.min(width, 760))}
          />
        </div>
      </div>
      <p className="note">{words.lineMeasuredOnThis}</p>
    </>
  );
}

function PlanTable({ plan }: { readonly plan: Plan }) {
  const unit = useUnit();
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
    <section className="trend-table" tabIndex={0} aria-label={words.thePlanAsA}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.sweeps}</th>
            <th scope="col">{words.responseTime}</th>
            <th scope="col">{words.canBeSeen}</th>
            <th scope="col">{words.byNoiseAlone}</th>
          </tr>
        </thead>
        <tbody>
          {plan.curve.map(({ sweeps, seconds, detectable, white }) => (
            <tr key={sweeps}>
              <th scope="row">{thousands(String(sweeps))}</th>
              <td className="num">{secondsSaid(seconds)}</td>
              <td className="num">{pressure(detectable, unit)}</td>
              <td className="num">{pressure(white, unit)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
