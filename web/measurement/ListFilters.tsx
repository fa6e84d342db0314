import { FindField } from '../frame/FindField.tsx';
import type { MeasurementAddress } from './address.ts';

interface ListFiltersProps {
  readonly address: MeasurementAddress;
  readonly change: (part: Partial<MeasurementAddress>, how?: 'push' | 'replace') => void;
  readonly areas: readonly string[];
  readonly nameOf: (area: string) => string;
}

export function ListFilters({ address, change, areas, nameOf }: ListFiltersProps) {
  return (
    <search className="tools unfolded">
      <FindField
        value={address.find}
        size={24}
        hint="chamber, analyser, words"
        find={(find) => change({ find }, 'replace')}
      />
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
