import { memo, useMemo } from 'react';
import { ComposedChart, XAxis, YAxis } from 'recharts';
import { words } from '../strings/charts.ts';
import { LinearGrid, LogGrid } from './AxisGrid.tsx';
import { linearAxis } from './linearAxis.ts';
import { logAxis } from './logAxis.ts';
import { type ProfilePoint, profilePieces, thinned } from './profile.ts';
import { SPECTRUM_HEIGHT, SPECTRUM_MARGIN } from './SpectrumChart.tsx';
import { MassTicks } from './SpectrumLayers.tsx';
import { useScales } from './scales.ts';

export interface Profile {
  readonly masses: readonly number[];
  readonly values: readonly (number | null)[];
}

interface ProfileChartProps {
  readonly profile: Profile;
  /** An earlier scan behind it. */
  readonly ghost: Profile | null;
  readonly unit: string;
  readonly scale: 'log' | 'linear';
  readonly width: number;
}

const ROOM = 1.08;

/** The scan as it was sent: a line through all of its points. */
export const ProfileChart = memo(function ProfileChart({ profile, ghost, unit, scale, width }: ProfileChartProps) {
  const first = profile.masses[0] ?? 1;
  const last = profile.masses[profile.masses.length - 1] ?? 100;
  const onLog = scale === 'log';
  const values = useMemo(() => [...profile.values, ...(ghost?.values ?? [])], [profile, ghost]);
  const log = useMemo(() => logAxis(values), [values]);
  const linear = useMemo(() => {
    const known = values.filter((value): value is number => value !== null && Number.isFinite(value));
    const top = known.reduce((most, value) => Math.max(most, value), 0) || 1;
    return linearAxis([0, top * ROOM, known.reduce((least, value) => Math.min(least, value), 0)], top);
  }, [values]);
  const domain = onLog ? [log.low, log.high] : [linear.low, linear.high];
  const data = useMemo(() => [{ mass: first }, { mass: last }], [first, last]);
  const label = words.asSent(unit === '1' ? words.relativeSignal : unit);
  return (
    <ComposedChart
      className="plot spectrum"
      width={width}
      height={SPECTRUM_HEIGHT}
      data={data}
      margin={SPECTRUM_MARGIN}
      accessibilityLayer={false}
    >
      <XAxis dataKey="mass" type="number" domain={[first - 0.6, last + 0.6]} allowDataOverflow hide />
      <YAxis type="number" scale={scale} domain={domain} allowDataOverflow hide />
      {onLog ? (
        <LogGrid ticks={log.ticks} unit={label} />
      ) : (
        <LinearGrid ticks={linear.ticks.filter((tick) => tick > 0)} unit={label} />
      )}
      {ghost ? <ProfileLine profile={ghost} onLog={onLog} className="sp-before" /> : null}
      <ProfileLine profile={profile} onLog={onLog} className="sp-profile" />
      <MassTicks first={first} last={last} />
    </ComposedChart>
  );
});

interface ProfileLineProps {
  readonly profile: Profile;
  readonly onLog: boolean;
  readonly className: string;
}

function ProfileLine({ profile, onLog, className }: ProfileLineProps) {
  const scales = useScales();
  const pieces = useMemo(() => profilePieces(profile.masses, profile.values, onLog), [profile, onLog]);
  if (!scales) return null;
  const { x, y } = scales;
  const massesPerPixel = 1 / Math.max(1e-6, x(2) - x(1));
  const path = (piece: readonly ProfilePoint[]) =>
    thinned(piece, massesPerPixel)
      .map(({ mass, value }) => `${x(mass).toFixed(1)} ${y(value).toFixed(1)}`)
      .join('L');
  return pieces.map((piece) =>
    piece.length === 1 ? (
      <path key={piece[0]?.mass} className={className} d={`M${path(piece)}h1`} />
    ) : (
      <path key={piece[0]?.mass} className={className} d={`M${path(piece)}`} />
    ),
  );
}
