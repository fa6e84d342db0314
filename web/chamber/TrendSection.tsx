import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { Trend } from '../../shared/contract/readings.ts';
import { baselinesQuestion, statesQuestion, type TrendAsked, trendQuestion } from '../api/questions.ts';
import { strokeOf } from '../charts/strokes.ts';
import { TREND_HEIGHT, TrendChart, trendMargin } from '../charts/TrendChart.tsx';
import { useDragZoom } from '../charts/useDragZoom.tsx';
import { useWidth } from '../charts/useWidth.ts';
import type { Span } from '../charts/zoom.ts';
import { nowMs, useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { duration } from '../notation/age.ts';
import { gasTitle } from '../notation/gas.ts';
import { moment, offsetText } from '../notation/time.ts';
import { useNarrow } from '../strip/useLayout.ts';
import { RANGE_SECONDS } from './address.ts';
import { GasChoice } from './GasChoice.tsx';
import { gasesAtFirst } from './gases.ts';
import type { ChamberParts } from './parts.ts';
import { SpanControls } from './SpanControls.tsx';
import { isFixed, spanFields, spanOf } from './span.ts';
import { TrendTable } from './TrendTable.tsx';
import { trendPicture, trendSentence } from './trendPicture.ts';

/** Buckets asked for: about one for each pixel of a wide chart. */
const POINTS = 800;
const POINTS_NARROW = 300;

interface TrendSectionProps extends ChamberParts {
  readonly alert: Alert | null;
}

export function TrendSection(props: TrendSectionProps) {
  const { chamber, alert, address, change } = props;
  const narrow = useNarrow();
  const now = useNow(15);
  const gases = address.gases.length > 0 ? address.gases : gasesAtFirst(chamber, alert);
  const span = spanOf(address, now);
  const asked: TrendAsked = {
    chamber: chamber.id,
    analyser: address.analyser === '' ? null : address.analyser,
    gases,
    span: isFixed(address) ? span : { lastSeconds: RANGE_SECONDS[address.range] },
    points: narrow ? POINTS_NARROW : POINTS,
  };
  const question = useQuery(trendQuestion(asked, nowMs));
  const choose = (next: Span) => change(spanFields(next));
  const showTable = () => change({ view: address.view === 'table' ? 'chart' : 'table' });
  useKeys({ d: showTable });
  return (
    <Section className="sec" margin={<TrendMargin span={span} gases={gases} table={address.view === 'table'} />}>
      <div className="ph">
        <h2>Trend</h2>
        <SpanControls address={address} span={span} change={change} />
        <GasChoice known={Object.keys(chamber.gases)} drawn={gases} choose={(list) => change({ gases: list })} />
        <button type="button" aria-pressed={address.view === 'table'} onClick={showTable}>
          {address.view === 'table' ? 'As a picture' : 'As a table'}
        </button>
      </div>
      {gases.length === 0 ? (
        <p className="note">Nothing of this chamber has been analysed yet: the first scan draws the first line.</p>
      ) : (
        <Answered question={question} what="The trend" lines={6}>
          {(trend) =>
            address.view === 'table' ? (
              <TrendTable trend={trend} gases={gases} />
            ) : (
              <Picture
                {...props}
                trend={trend}
                gases={gases}
                span={span}
                asked={asked}
                choose={choose}
                narrow={narrow}
              />
            )
          }
        </Answered>
      )}
    </Section>
  );
}

interface PictureProps extends TrendSectionProps {
  readonly trend: Trend;
  readonly gases: readonly string[];
  readonly span: Span;
  readonly asked: TrendAsked;
  readonly choose: (span: Span) => void;
  readonly narrow: boolean;
}

/** Room that one label of the time axis needs. */
const TICK_PX = 90;

function Picture({ chamber, alerts, trend, gases, span, asked, choose, narrow }: PictureProps) {
  const unit = useUnit();
  const zone = useZone();
  const [box, measured] = useWidth<HTMLDivElement>();
  const width = Math.max(measured, 320);
  const states = useQuery(statesQuestion(chamber.id, asked.span, nowMs)).data?.spans ?? NONE;
  const baselines = useQuery(baselinesQuestion(chamber.id)).data?.baselines ?? NONE;
  const margin = trendMargin(narrow);
  const plot = {
    left: margin.left,
    right: width - margin.right,
    top: margin.top,
    bottom: TREND_HEIGHT - margin.bottom,
  };
  const parts = useMemo(
    () => ({
      trend,
      gases,
      span,
      unit,
      zone,
      nowMs: nowMs(),
      baselines,
      states,
      alerts,
      tickCount: Math.max(2, Math.floor((plot.right - plot.left) / TICK_PX)),
    }),
    [trend, gases, span, unit, zone, baselines, states, alerts, plot.left, plot.right],
  );
  const picture = useMemo(() => trendPicture(parts), [parts]);
  const zoom = useDragZoom({ span, plot, now: nowMs, choose });
  return (
    <div className="plotbox" ref={box}>
      <div
        ref={zoom.surface}
        className="zoomable"
        role="img"
        aria-label={trendSentence(picture, parts)}
        onPointerDown={zoom.onPointerDown}
        onPointerMove={zoom.onPointerMove}
        onPointerUp={zoom.onPointerUp}
        onPointerCancel={zoom.onPointerUp}
      >
        <TrendChart picture={picture} span={span} width={width} narrow={narrow} />
        {zoom.veil}
      </div>
    </div>
  );
}

const NONE: readonly never[] = [];

function TrendMargin({
  span,
  gases,
  table,
}: {
  readonly span: Span;
  readonly gases: readonly string[];
  readonly table: boolean;
}) {
  const zone = useZone();
  const now = nowMs();
  return (
    <>
      <p>
        {moment(span.from, zone, now)} – {moment(span.to, zone, now)}
      </p>
      <p>
        ({offsetText(span.to, zone)}), {duration((span.to - span.from) / 1000)}
      </p>
      {table ? null : (
        <ul className="lg">
          {gases.map((gas) => {
            const { slot, dash } = strokeOf(gas);
            return (
              <li key={gas}>
                {gasTitle(gas)}
                <svg width="26" height="8" aria-hidden="true">
                  <path className={`tr-line s-${slot}`} strokeDasharray={dash} d="M0 4H26" />
                </svg>
              </li>
            );
          })}
          <li>
            min to max
            <svg width="26" height="10" aria-hidden="true">
              <rect className={`tr-env g-${strokeOf(gases[0] ?? 'N2').slot}`} width="26" height="10" />
            </svg>
          </li>
          <li>
            below detection
            <svg width="26" height="8" aria-hidden="true">
              <path className={`g-${strokeOf(gases[0] ?? 'N2').slot}`} d="M0 3h3v3h-3zM11 3h3v3h-3zM22 3h3v3h-3z" />
            </svg>
          </li>
        </ul>
      )}
    </>
  );
}
