import { FindField } from '../frame/FindField.tsx';
import { words as all } from '../strings/measurementList.ts';
import type { MeasurementAddress } from './address.ts';

const said = all.listFilters;

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
        hint={said.chamberAnalyserWords}
        find={(find) => change({ find }, 'replace')}
      />
      <label>
        {said.area}{' '}
        <select value={address.area} onChange={(event) => change({ area: event.target.value })}>
          <option value="">{said.all}</option>
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
          checked={address.show === 'with-remark'}
          onChange={(event) => change({ show: event.target.checked ? 'with-remark' : 'all' })}
        />
        {said.onlyThoseWithA}
      </label>
    </search>
  );
}
