import { memo } from 'react';
import { gasLabel } from '../notation/gas.ts';
import { DECADE, type DrawnMark, draw, type Mark } from './geometry.ts';
import type { Layout } from './layout.ts';
import { type Condition, stripSentence } from './sentence.ts';

interface StripProps {
  readonly marks: readonly Mark[];
  readonly layout: Layout;
  readonly condition: Condition;
  /** The head of a chamber draws it larger. */
  readonly scale?: number;
}

/** How every gas of a chamber lies against its own baseline: the product's one idea. */
export const Strip = memo(function Strip({ marks, layout, condition, scale = 1 }: StripProps) {
  const quiet = condition.kind !== 'live';
  const shown = layout.slots.flatMap(({ gas }) => marks.find((mark) => mark.gas === gas) ?? []);
  const drawing = draw(quiet ? [] : shown, layout);
  const height = quiet ? QUIET_HEIGHT : drawing.height;
  return (
    <svg
      className="strip"
      width={layout.width * scale}
      height={height * scale}
      viewBox={`0 0 ${layout.width} ${height}`}
      role="img"
      aria-label={stripSentence(shown, condition)}
    >
      {quiet ? (
        <QuietStrip marks={marks} layout={layout} condition={condition} />
      ) : (
        drawing.marks.map((mark) => <LiveMark key={mark.gas} mark={mark} base={drawing.base} />)
      )}
    </svg>
  );
});

const QUIET_HEIGHT = 28;
const MIDDLE = QUIET_HEIGHT / 2;
const DOT = 3.4;

function LiveMark({ mark, base }: { readonly mark: DrawnMark; readonly base: number }) {
  const left = mark.x - mark.dash.width / 2;
  if (mark.kind === 'slash') return <path className="st-nm" d={`M${mark.x - 2.5} ${base + 3.5}l5 -7`} />;
  return (
    <>
      {mark.bed ? (
        <rect
          className="st-well"
          x={mark.x - mark.bed.width / 2}
          y={base - mark.bed.half}
          width={mark.bed.width}
          height={2 * mark.bed.half}
        />
      ) : null}
      {mark.before ? (
        <>
          <path className="st-prev" d={`M${left} ${mark.before.y}h${mark.dash.width}`} />
          <path className="st-trail" d={`M${mark.x} ${mark.before.y}V${mark.before.trailTo}`} />
        </>
      ) : null}
      {mark.post.map((piece) => (
        <rect
          key={piece.y}
          className={`st-stem ${mark.tone}`}
          x={mark.x - mark.postWidth / 2}
          y={piece.y}
          width={mark.postWidth}
          height={piece.height}
        />
      ))}
      <Dash mark={mark} left={left} />
      {mark.offScale ? (
        <path
          className={`st-over ${mark.tone}`}
          d={`M${left} ${mark.y - 4}l${mark.dash.width / 2} -4l${mark.dash.width / 2} 4`}
        />
      ) : null}
      {mark.factor ? (
        <>
          <text className={`st-f ${mark.tone}`} x={mark.x} y={mark.factor.y}>
            {mark.factor.text}
          </text>
          <text className="st-g" x={mark.x} y={mark.labelY}>
            {gasLabel(mark.gas)}
          </text>
        </>
      ) : null}
    </>
  );
}

function Dash({ mark, left }: { readonly mark: DrawnMark; readonly left: number }) {
  const { width, height } = mark.dash;
  const top = mark.y - height / 2;
  if (mark.kind === 'dots') {
    const dot = `v${height}h${-DOT}z`;
    return (
      <path
        className={`st-bd ${mark.tone}`}
        d={`M${left} ${top}h${DOT}${dot}M${left + width - DOT} ${top}h${DOT}${dot}`}
      />
    );
  }
  if (mark.kind === 'broken') return <path className="st-learn" d={`M${left} ${mark.y}h${width}`} />;
  return <rect className={`st-dash ${mark.tone}`} x={left} y={top} width={width} height={height} />;
}

/** Every way of not knowing: hatched, broken or plain, with its word. */
function QuietStrip({ marks, layout, condition }: Omit<StripProps, 'scale'>) {
  const hatched = condition.kind === 'stale' || condition.kind === 'blind';
  return (
    <>
      {hatched ? (
        <rect
          className={condition.kind === 'blind' ? 'st-blind' : 'st-stale'}
          x="0.5"
          y="1"
          width={layout.width - 1}
          height={QUIET_HEIGHT - 2}
          fill="url(#hatch)"
        />
      ) : null}
      {condition.kind === 'stale' ? <LastKnown marks={marks} layout={layout} /> : null}
      {condition.kind === 'learning' || condition.kind === 'loading' ? (
        <Broken layout={layout} className={condition.kind === 'loading' ? 'st-off' : 'st-learn'} />
      ) : null}
      {condition.kind === 'unwatched' ? <path className="st-off" d={`M0 ${MIDDLE}H${layout.width}`} /> : null}
      {condition.kind === 'failed' ? (
        <path className="st-off" strokeDasharray="1.5 7" d={`M0 ${MIDDLE}H${layout.width}`} />
      ) : null}
      <Tag text={tagText(condition)} width={layout.width} />
    </>
  );
}

function Broken({ layout, className }: { readonly layout: Layout; readonly className: string }) {
  const width = layout.pitch * 0.62;
  return layout.slots.map(({ gas, x }) => (
    <path key={gas} className={className} d={`M${x - width / 2} ${MIDDLE}h${width}`} />
  ));
}

/** A stale strip still shows where the marks were last seen, hollow and in dotted beds. */
function LastKnown({ marks, layout }: { readonly marks: readonly Mark[]; readonly layout: Layout }) {
  const width = layout.pitch * 0.62;
  const room = 0.5;
  return layout.slots.map(({ gas, x }) => {
    const mark = marks.find((candidate) => candidate.gas === gas);
    if (!mark || mark.status === 'not-measured') return null;
    const y = MIDDLE - Math.max(-room, Math.min(room, mark.decades ?? 0)) * DECADE;
    const half = (mark.halfWidth ?? 0.18) * DECADE;
    return (
      <g key={gas}>
        <rect
          className="st-well stale"
          x={x - layout.pitch / 2 + 1}
          y={MIDDLE - half}
          width={layout.pitch - 2}
          height={2 * half}
        />
        <rect className="st-ghost" x={x - width / 2} y={y - 1.5} width={width} height="3" />
      </g>
    );
  });
}

function tagText(condition: Condition): string {
  switch (condition.kind) {
    case 'stale':
      return `stale ${condition.age}`;
    case 'blind':
      return `blind ${condition.age}`;
    case 'learning':
      return condition.progress;
    case 'unwatched':
      return condition.word;
    default:
      return '';
  }
}

function Tag({ text, width }: { readonly text: string; readonly width: number }) {
  if (text === '') return null;
  const wide = text.length * 6.6 + 14;
  return (
    <>
      <rect className="st-tagbg" x={(width - wide) / 2} y={MIDDLE - 9} width={wide} height="18" />
      <text className="st-tag" x={width / 2} y={MIDDLE + 4}>
        {text}
      </text>
    </>
  );
}
