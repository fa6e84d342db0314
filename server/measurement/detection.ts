/**
 * How many standard deviations of the noise a peak must have to count: a setting of the site. Floors are stored at three
 * (the fixed interface shows them so); the answers about the measurement move them to the multiple that is set.
 */
import type { Sql } from 'postgres';
import { audited } from '../audit.ts';

const KEY = 'detection-multiple';
const STORED_MULTIPLE = 3;
export const DEFAULT_MULTIPLE = 3;
export const LEAST_MULTIPLE = 1;
export const GREATEST_MULTIPLE = 10;

export const readMultiple = async (sql: Sql): Promise<number> => {
  const [row] = await sql<{ value: unknown }[]>`select value from settings where key = ${KEY}`;
  const value = row?.value;
  return typeof value === 'number' && value >= LEAST_MULTIPLE && value <= GREATEST_MULTIPLE ? value : DEFAULT_MULTIPLE;
};

export const writeMultiple = async (sql: Sql, asked: { multiple: number; at: Date; by: string }): Promise<void> => {
  const { multiple, at, by } = asked;
  await sql`
    with kept as (
      insert into settings (key, value) values (${KEY}, to_jsonb(${multiple}::float8))
      on conflict (key) do update set value = excluded.value
    ) ${audited(sql, { at, by, what: 'detection multiple set', detail: { detectionMultiple: multiple } })}`;
};

export const floorAt = (floorPa: number, multiple: number): number => (floorPa * multiple) / STORED_MULTIPLE;

export const decadesAt = (decades: number, multiple: number): number =>
  decades - Math.log10(multiple / STORED_MULTIPLE);
