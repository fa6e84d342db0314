import { memo } from 'react';
import { words } from '../strings/strip.ts';
import { DECADE, type Drawing, type DrawnMark, dashWidth, draw, type Mark } from './geometry.ts';
import { gasesOf, type Layout } from './layout.ts';
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
  const shown = gasesOf(layout).flatMap((gas) => marks.find((mark) => mark.gas === gas) ?? []);
  const first = draw(quiet ? [] : shown, layout);
  // A chamber that has none of the area's own gases needs no second line.
  const { below } = layout;
  const second = !quiet && below && shown.some(({ gas }) => below.slots.some((slot) => slot.gas === gas));
  const more = second ? draw(shown, below) : null;
  const height = quiet ? QUIET_HEIGHT : first.height + (more ? more.height + BETWEEN : 0);
  return (
    <svg
      className="strip"
      width={layout.width * scale}
      height={height * scale}
      viewBox={`0 0 ${layout.width} ${height}`}
      role="img"
      aria-label={stripSentence(shown, condition)}
    >
      {quiet ? <QuietStrip marks={marks} layout={layout} condition={condition} /> : <LiveStrip drawing={first} />}
      {more ? (
        <g transform={`translate(0 ${first.height + BETWEEN})`}>
          <LiveStrip drawing={more} />
        </g>
      ) : null}
    </svg>
  );
});

/** Between the watched gases and the own ones below them. */
const BETWEEN = 4;

/** What lies in its bed is one path of each kind, however many gases there are: a round of a thousand stays light. */
function LiveStrip({ drawing }: { readonly drawing: Drawing }) {
  const { base, marks } = drawing;
  const flat = marks.filter((mark) => mark.tone === 'rest' && mark.before === null);
  const of = (kind: DrawnMark['kind']) => flat.filter((mark) => mark.kind === kind);
  return (
    <>
      <Together className="st-well" pieces={flat.map((mark) => bedPath(mark, base))} />
      <Together className="st-dash rest" pieces={of('dash').map(dashPath)} />
      <Together className="st-bd rest" pieces={of('dots').map(dotsPath)} />
      <Together className="st-learn" pieces={of('broken').map(linePath)} />
      <Together className="st-nm" pieces={of('slash').map(({ x }) => slashPath(x, base))} />
      {marks
        .filter((mark) => !flat.includes(mark))
        .map((mark) => (
          <LiveMark key={mark.gas} mark={mark} base={base} />
        ))}
    </>
  );
}

function Together({ className, pieces }: { readonly className: string; readonly pieces: readonly string[] }) {
  const path = pieces.join('');
  return path === '' ? null : <path className={className} d={path} />;
}

const box = (x: number, y: number, width: number, height: number): string => `M${x} ${y}h${width}v${height}h${-width}z`;
const bedPath = ({ x, bed }: DrawnMark, base: number): string =>
  bed ? box(x - bed.width / 2, base - bed.half, bed.width, 2 * bed.half) : '';
const dashPath = ({ x, y, dash }: DrawnMark): string =>
  box(x - dash.width / 2, y - dash.height / 2, dash.width, dash.height);
const linePath = ({ x, y, dash }: DrawnMark): string => `M${x - dash.width / 2} ${y}h${dash.width}`;
const slashPath = (x: number, base: number): string => `M${x - 2.5} ${base + 3.5}l5 -7`;
const dotsPath = ({ x, y, dash }: DrawnMark): string => {
  const [left, top] = [x - dash.width / 2, y - dash.height / 2];
  return box(left, top, DOT, dash.height) + box(left + dash.width - DOT, top, DOT, dash.height);
};

const QUIET_HEIGHT = 28;
const MIDDLE = QUIET_HEIGHT / 2;
const DOT = 3.4;

function LiveMark({ mark, base }: { readonly mark: DrawnMark; readonly base: number }) {
  const left = mark.x - mark.dash.width / 2;
  return (
    <>
      {mark.bed ? <path className="st-well" d={bedPath(mark, base)} /> : null}
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
      <path className={`st-dash ${mark.tone}`} d={dashPath(mark)} />
      {mark.offScale ? (
        <path
          className={`st-over ${mark.tone}`}
          d={`M${left} ${mark.y - 4}l${mark.dash.width / 2} -4l${mark.dash.width / 2} 4`}
        />
      ) : null}
      {mark.factor ? (
        <>
          <text className={`st-f ${mark.tone}`} x={mark.factor.x} y={mark.factor.y}>
            {mark.factor.text}
          </text>
          <text className="st-g" x={mark.label.x} y={mark.label.y}>
            {mark.label.text}
          </text>
        </>
      ) : null}
    </>
  );
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
  const width = dashWidth(layout.pitch);
  return layout.slots.map(({ gas, x }) => (
    <path key={gas} className={className} d={`M${x - width / 2} ${MIDDLE}h${width}`} />
  ));
}

/** A stale strip still shows where the marks were last seen, hollow and in dotted beds. */
function LastKnown({ marks, layout }: { readonly marks: readonly Mark[]; readonly layout: Layout }) {
  const width = dashWidth(layout.pitch);
  const room = 0.5;
  return layout.slots.map(({ gas, x }) => {
    const mark = marks.find((candidate) => candidate.gas === gas);
    if (!mark || mark.status === 'not-measured') return null;
    const y = MIDDLE - Math.max(-room, Math.min(room, mark.decades ?? 0)) * DECADE;
    const half = Math.min(MIDDLE - 1, (mark.halfWidth ?? 0.18) * DECADE);
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
      return words.staleTag(condition.age);
    case 'blind':
      return words.blindTag(condition.age);
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
