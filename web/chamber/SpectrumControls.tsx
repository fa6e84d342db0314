import { useEffect, useState } from 'react';
import type { StoredScan } from '../../shared/contract/readings.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useZone } from '../frame/site.ts';
import { clockTimeSeconds, fieldInstant, fieldValue } from '../notation/time.ts';
import { words } from '../strings/spectrum.ts';
import { NO_GHOST, USUAL } from './address.ts';
import type { ChamberParts } from './parts.ts';

type ControlsProps = Pick<ChamberParts, 'address' | 'change'> & {
  /** The scan that is shown, with its neighbours; null while it is not known. */
  readonly scan: StoredScan | null;
  readonly hasProfile: boolean;
};

/** Which scan is drawn and how: every choice has a key or a field, and stands in the address. */
export function SpectrumControls({ address, change, scan, hasProfile }: ControlsProps) {
  const toggle = () => change({ scale: address.scale === 'log' ? 'linear' : 'log' });
  useKeys({ l: toggle });
  return (
    <>
      <fieldset className="opt">
        <legend className="unseen">{words.scale}</legend>
        {(['log', 'linear'] as const).map((scale) => (
          <button key={scale} type="button" aria-pressed={address.scale === scale} onClick={() => change({ scale })}>
            {words.scales[scale]}
          </button>
        ))}
      </fieldset>
      <Key name="l" />
      <fieldset className="opt">
        <legend className="unseen">{words.drawing}</legend>
        {(['bars', 'profile'] as const).map((peaks) => (
          <button
            key={peaks}
            type="button"
            aria-pressed={address.peaks === peaks}
            disabled={peaks === 'profile' && !hasProfile}
            onClick={() => change({ peaks })}
          >
            {words.drawings[peaks]}
          </button>
        ))}
      </fieldset>
      <GhostChoice address={address} change={change} scan={scan} />
      <ScanSteps address={address} change={change} scan={scan} />
    </>
  );
}

function GhostChoice({ address, change, scan }: Omit<ControlsProps, 'hasProfile'>) {
  const zone = useZone();
  const own = address.ghost === USUAL || address.ghost === NO_GHOST ? null : address.ghost;
  const before = scan?.previousAt ?? null;
  const cross = address.cross === null ? null : new Date(address.cross).toISOString();
  const times = [
    ...(before === null ? [] : [[before, words.ghosts.before] as const]),
    ...(cross === null || cross === before ? [] : [[cross, words.ghosts.cross] as const]),
    ...(own === null || own === before || own === cross
      ? []
      : [[own, words.ghostAt(clockTimeSeconds(Date.parse(own), zone))] as const]),
  ];
  return (
    <label>
      {words.ghost}{' '}
      <select value={address.ghost} onChange={(event) => change({ ghost: event.target.value })}>
        <option value={USUAL}>{words.ghosts.usual}</option>
        <option value={NO_GHOST}>{words.ghosts.none}</option>
        {times.map(([time, name]) => (
          <option key={time} value={time}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The end of the minute that was typed: the scan that was there when the minute was over. */
const MINUTE_END_MS = 59_999;

function ScanSteps({ address, change, scan }: Omit<ControlsProps, 'hasProfile'>) {
  const zone = useZone();
  const given = scan === null ? '' : fieldValue(Date.parse(scan.at), zone);
  const [typed, setTyped] = useState(given);
  useEffect(() => setTyped(given), [given]);
  const show = (time: string | null) => change({ scan: time ?? '' }, 'replace');
  const before = scan?.previousAt ? () => show(scan.previousAt) : undefined;
  const after = address.scan !== '' && scan?.nextAt ? () => show(scan.nextAt) : undefined;
  useKeys({ ',': before, '.': after });
  const apply = () => {
    const at = fieldInstant(typed, zone);
    if (at === null || typed === given) setTyped(given);
    else change({ scan: new Date(at + MINUTE_END_MS).toISOString() });
  };
  const { cross } = address;
  return (
    <>
      <span className="span-fields">
        <label>
          {words.scanAt}{' '}
          <input
            className="when"
            size={16}
            inputMode="numeric"
            placeholder={words.scanField}
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
            onBlur={apply}
            onKeyDown={(event) => event.key === 'Enter' && apply()}
          />
        </label>
      </span>
      <span className="steps-of">
        <button type="button" aria-label={words.before} disabled={!before} onClick={before}>
          ← <Key name="," />
        </button>
        <button type="button" aria-label={words.after} disabled={!after} onClick={after}>
          → <Key name="." />
        </button>
        {cross === null ? null : (
          <button type="button" onClick={() => change({ scan: new Date(cross).toISOString() })}>
            {words.atCross}
          </button>
        )}
        {address.scan === '' ? null : (
          <button type="button" onClick={() => show(null)}>
            {words.newest}
          </button>
        )}
      </span>
    </>
  );
}
