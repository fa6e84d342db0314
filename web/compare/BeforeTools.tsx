import type { BeforeAfter, ComparedSide } from '../../shared/contract/beforeAfter.ts';
import type { RoundLine } from '../../shared/contract/round.ts';
import { SpanFields } from '../chamber/SpanControls.tsx';
import { spanFields } from '../chamber/span.ts';
import { useNow } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/compareBefore.ts';
import type { Change, CompareAddress } from './address.ts';
import { Fault } from './Choices.tsx';
import { ChamberChoice } from './ModeChoice.tsx';

interface BeforeToolsProps {
  readonly answer: BeforeAfter | undefined;
  readonly address: CompareAddress;
  readonly change: Change;
  readonly chamber: RoundLine;
  readonly chambers: readonly RoundLine[];
  readonly fault: string | null;
}

const OWN_TIMES = { beforeFrom: null, beforeTo: null, afterFrom: null, afterTo: null };
/** A summary is a sentence or two; a choice has room for its beginning. */
const LONGEST = 70;
const shortened = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST - 1).trimEnd()}…` : text);

/** Which alert, which analyser, which two times. The proposed ones can be had back. */
export function BeforeTools({ answer, address, change, chamber, chambers, fault }: BeforeToolsProps) {
  const zone = useZone();
  const now = useNow(60);
  const own = [address.beforeFrom, address.afterFrom].some((time) => time !== null);
  return (
    <>
      <div className="tools unfolded compare-tools">
        <ChamberChoice chamber={chamber} chambers={chambers} change={change} />
        <label>
          {words.alert}{' '}
          <select
            className="wide"
            value={answer?.alert?.id ?? 'none'}
            disabled={answer === undefined}
            onChange={(event) => change({ ...OWN_TIMES, alert: event.target.value })}
          >
            {answer?.alerts.map(({ id, summary, raisedAt }) => (
              <option key={id} value={id}>
                {shortened(words.alertLine(moment(Date.parse(raisedAt), zone, now), summary))}
              </option>
            ))}
            <option value="none">{words.noAlert}</option>
          </select>
        </label>
        {chamber.analysers.length > 1 ? (
          <label>
            {words.beforeAnalyser}{' '}
            <select
              value={answer?.before.analyser ?? chamber.analysers[0]}
              onChange={(event) => change({ analyser: event.target.value })}
            >
              {chamber.analysers.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </label>
        ) : null}
        <Fault text={fault} />
      </div>
      <div className="ph sides">
        {(['before', 'after'] as const).map((side) => (
          <SideFields
            key={side}
            side={side}
            shown={answer?.[side]}
            asked={[address[`${side}From`], address[`${side}To`]]}
            change={change}
          />
        ))}
        {own ? (
          <button type="button" onClick={() => change(OWN_TIMES)}>
            {words.proposed}
          </button>
        ) : null}
      </div>
    </>
  );
}

interface SideFieldsProps {
  readonly side: 'before' | 'after';
  readonly shown: ComparedSide | undefined;
  readonly asked: readonly [number | null, number | null];
  readonly change: Change;
}

function SideFields({ side, shown, asked, change }: SideFieldsProps) {
  const now = useNow(60);
  const found = [shown?.from, shown?.to].map((time) => (time ? Date.parse(time) : null));
  const [from, to] = [asked[0] ?? found[0] ?? now, asked[1] ?? found[1] ?? now];
  return (
    <fieldset className="side-fields">
      <legend>{side === 'before' ? words.fieldBefore : words.fieldAfter}</legend>
      <SpanFields
        span={{ from, to }}
        choose={(span) => {
          const whole = spanFields(span);
          change({ [`${side}From`]: whole.from, [`${side}To`]: whole.to });
        }}
      />
    </fieldset>
  );
}
