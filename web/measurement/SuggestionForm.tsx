import { type FormEvent, useState } from 'react';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { setCalibration } from '../api/measurementMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { useMay, useZone } from '../frame/site.ts';
import { plain, scientific } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { Refusal } from './Field.tsx';
import { NoteField } from './NoteField.tsx';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

const words = all.suggestionForm;

type Suggestion = NonNullable<AnalyserMeasurement['suggestion']>;

/** 95 % of a normal distribution. */
const SIGMA_95 = 1.96;

/**
 * The two readings of a steady κ: the analyser's sensitivity is not what is on record, or the gauge stands where the
 * pressure is another. Only a person knows which.
 */
export function choicesOf({ factor, low, high, sensitivityAmperesPerPascal }: Suggestion) {
  const relativeUncertainty = Math.min(1, Math.max(0, (high - low) / (2 * SIGMA_95 * factor)));
  const gauge = { kind: 'gauge-factor' as const, value: 1 / factor, relativeUncertainty };
  return sensitivityAmperesPerPascal === null
    ? [gauge]
    : [{ kind: 'sensitivity' as const, value: sensitivityAmperesPerPascal, relativeUncertainty }, gauge];
}

export type SuggestedChoice = ReturnType<typeof choicesOf>[number];

interface SuggestionPartProps {
  readonly measured: AnalyserMeasurement;
}

export function SuggestionPart({ measured }: SuggestionPartProps) {
  const [open, setOpen] = useState(false);
  const engineer = useMay('engineer');
  const { suggestion } = measured;
  if (suggestion === null) return null;
  return (
    <div className="offered">
      <p className="say">
        {words.offeredAllPressuresOf(plain(suggestion.factor, 3), plain(suggestion.low, 3), plain(suggestion.high, 3))}{' '}
        <Sentence text={suggestion.because} />
      </p>
      {engineer && !open ? (
        <div className="does">
          <button type="button" onClick={() => setOpen(true)}>
            {words.lookAtItAnd}
          </button>
        </div>
      ) : null}
      {engineer ? null : <p className="note">{words.nothingIsAppliedBy}</p>}
      {open ? <SuggestionForm measured={measured} suggestion={suggestion} done={() => setOpen(false)} /> : null}
    </div>
  );
}

interface SuggestionFormProps {
  readonly measured: AnalyserMeasurement;
  readonly suggestion: Suggestion;
  readonly done: () => void;
}

function SuggestionForm({ measured, suggestion, done }: SuggestionFormProps) {
  const zone = useZone();
  const choices = choicesOf(suggestion);
  const [at, setAt] = useState(0);
  const [from, setFrom] = useState(() => fieldValue(nowMs(), zone));
  const [note, setNote] = useState(words.stoodAt(plain(suggestion.factor, 3)));
  const sending = useSending(done);
  const instant = fieldInstant(from, zone);
  const chosen = choices[at] ?? choices[0];
  const ready = chosen !== undefined && instant !== null && note.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || chosen === undefined || instant === null) return;
    sending.run(() =>
      setCalibration(measured.analyser, {
        ...chosen,
        source: 'gauge',
        validFrom: instantOf(instant),
        note: note.trim(),
      }),
    );
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <fieldset>
        <legend className="note">{words.whichOfTheTwo}</legend>
        {choices.map((choice, i) => (
          <label key={choice.kind} className="check">
            <input type="radio" name="which" checked={i === at} onChange={() => setAt(i)} />
            {choiceText(choice, measured.calibration.sensitivityAmperesPerPascal)}
          </label>
        ))}
      </fieldset>
      <div className="two">
        <WhenField label={words.inForceFrom} value={from} fault={sending.faultOf('validFrom')} set={setFrom} />
        <NoteField value={note} fault={sending.faultOf('note')} set={setNote} />
      </div>
      <div className="does">
        <button type="submit" className="main" disabled={!ready || sending.busy}>
          {sending.busy ? <Sending word={words.puttingInForce} /> : words.putInForce}
        </button>
        <button type="button" onClick={done}>
          {words.leaveIt}
        </button>
      </div>
      <Refusal sending={sending} />
    </form>
  );
}

function choiceText({ kind, value }: SuggestedChoice, now: number | null): string {
  return kind === 'sensitivity'
    ? words.theAnalyserItsSensitivity(
        scientific(value, 3),
        NBSP,
        now === null ? '' : words.notAPa(scientific(now, 3), NBSP),
      )
    : words.theGaugeWhereThe(plain(value, 3));
}
