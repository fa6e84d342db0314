import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { Trend } from '../../shared/contract/readings.ts';
import { baselinesQuestion, statesQuestion, type TrendAsked, trendQuestion } from '../api/questions.ts';
import { TREND_HEIGHT, TrendChart, trendMargin } from '../charts/TrendChart.tsx';
import { useWidth } from '../charts/useWidth.ts';
import { Zoomable } from '../charts/Zoomable.tsx';
import type { Span } from '../charts/zoom.ts';
import { nowMs, useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { words } from '../strings/chamber.ts';
import { useNarrow } from '../strip/useLayout.ts';
import { RANGE_SECONDS } from './address.ts';
import { CrossHair } from './CrossHair.tsx';
import { GasChoice } from './GasChoice.tsx';
import { drawnGases } from './gases.ts';
import { notesQuestion } from './notes.ts';
import type { ChamberParts } from './parts.ts';
import { Recomputed } from './Recomputed.tsx';
import { SpanControls } from './SpanControls.tsx';
import { isFixed, spanFields, spanOf } from './span.ts';
import { TrendMargin } from './TrendMargin.tsx';
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
  const gases = drawnGases(chamber, alert, address);
  const span = spanOf(address, now);
  const asked: TrendAsked = {
    chamber: chamber.id,
    analyser: address.analyser === '' ? null : address.analyser,
    gases,
    span: isFixed(address) ? span : { lastSeconds: RANGE_SECONDS[address.range] },
    points: narrow ? POINTS_NARROW : POINTS,
  };
  const question = useQuery(trendQuestion(asked, nowMs));
  const recomputed = useQuery(trendQuestion({ ...asked, recomputation: address.recomputation }, nowMs));
  const choose = (next: Span) => change(spanFields(next));
  const again = address.recomputation === '' ? undefined : recomputed.data;
  const showTable = () => change({ view: address.view === 'table' ? 'chart' : 'table' });
  useKeys({ d: showTable });
  return (
    <Section
      className="sec"
      margin={
        <TrendMargin span={span} gases={gases} table={address.view === 'table'} again={address.recomputation !== ''} />
      }
    >
      <div className="ph">
        <h2>{words.trend}</h2>
        <SpanControls address={address} span={span} change={change} />
        <GasChoice known={Object.keys(chamber.gases)} drawn={gases} choose={(list) => change({ gases: list })} />
        <button type="button" aria-pressed={address.view === 'table'} onClick={showTable}>
          {address.view === 'table' ? words.asAPicture : words.asATable}
        </button>
      </div>
      {address.recomputation === '' ? null : (
        <Recomputed question={recomputed} leave={() => change({ recomputation: '' })} />
      )}
      {gases.length === 0 ? (
        <p className="note">{words.nothingOfThisChamber}</p>
      ) : (
        <Answered question={question} what={words.theTrend} lines={6}>
          {(trend) =>
            address.view === 'table' ? (
              <TrendTable trend={trend} recomputed={again} gases={gases} />
            ) : (
              <>
                <Picture
                  {...props}
                  trend={trend}
                  recomputed={again}
                  gases={gases}
                  span={span}
                  asked={asked}
                  choose={choose}
                  narrow={narrow}
                />
                <CrossHair chamber={chamber} address={address} change={change} trend={trend} gases={gases} />
              </>
            )
          }
        </Answered>
      )}
    </Section>
  );
}

interface PictureProps extends TrendSectionProps {
  readonly trend: Trend;
  readonly recomputed: Trend | undefined;
  readonly gases: readonly string[];
  readonly span: Span;
  readonly asked: TrendAsked;
  readonly choose: (span: Span) => void;
  readonly narrow: boolean;
}

/** Room that one label of the time axis needs. */
const TICK_PX = 90;

function Picture(props: PictureProps) {
  const { chamber, alerts, trend, recomputed, gases, span, asked, choose, narrow, address, change } = props;
  const unit = useUnit();
  const zone = useZone();
  const [box, measured] = useWidth<HTMLDivElement>();
  const width = Math.max(measured, 240);
  const states = useQuery(statesQuestion(chamber.id, asked.span, nowMs)).data?.spans ?? NONE;
  const notes = useQuery(notesQuestion(chamber.id, asked.span, nowMs)).data?.notes ?? NONE;
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
      recomputed,
      gases,
      span,
      unit,
      zone,
      nowMs: nowMs(),
      baselines,
      states,
      alerts,
      notes,
      tickCount: Math.max(2, Math.floor((plot.right - plot.left) / TICK_PX)),
    }),
    [trend, recomputed, gases, span, unit, zone, baselines, states, alerts, notes, plot.left, plot.right],
  );
  const picture = useMemo(() => trendPicture(parts), [parts]);
  return (
    <div className="plotbox" ref={box}>
      <Zoomable
        label={trendSentence(picture, parts)}
        span={span}
        plot={plot}
        now={nowMs}
        choose={choose}
        point={(cross) => change({ cross: Math.floor(cross / 1000) * 1000 }, 'replace')}
        cross={address.cross}
      >
        <TrendChart picture={picture} span={span} width={width} narrow={narrow} />
      </Zoomable>
    </div>
  );
}

const NONE: readonly never[] = [];
