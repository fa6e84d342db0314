import { useRef } from 'react';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import type { MeasurementAddress } from './address.ts';

interface ListFiltersProps {
  readonly address: MeasurementAddress;
  readonly change: (part: Partial<MeasurementAddress>, how?: 'push' | 'replace') => void;
  readonly areas: readonly string[];
  readonly nameOf: (area: string) => string;
}

export function ListFilters({ address, change, areas, nameOf }: ListFiltersProps) {
  const field = useRef<HTMLInputElement>(null);
  useKeys({ '/': () => field.current?.focus() });
  return (
    <search className="tools unfolded">
      <label>
        Find <Key name="/" />{' '}
        <input
          ref={field}
          type="search"
          size={24}
          placeholder="chamber, analyser, words"
          value={address.find}
          onChange={(event) => change({ find: event.target.value }, 'replace')}
          onKeyDown={(event) => event.key === 'Escape' && event.currentTarget.blur()}
        />
      </label>
      <label>
        Area{' '}
        <select value={address.area} onChange={(event) => change({ area: event.target.value })}>
          <option value="">all</option>
          {areas.map((area) => (
            <option key={area} value={area}>
              {nameOf(area)}
            </option>
          ))}
        </select>
      </label>
      <label className="check">
        <input
          type="checkbox"
          checked={address.show === 'with a remark'}
          onChange={(event) => change({ show: event.target.checked ? 'with a remark' : 'all' })}
        />
        only those with a remark
      </label>
    </search>
  );
}
