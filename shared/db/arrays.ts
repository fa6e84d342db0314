/**
 * Arrays of PostgreSQL's own types. The driver would ask each new connection's server which array types exist, and a
 * connection that dies during that question raises an error that nobody can catch; so they are told to it here.
 */
import type { Sql } from 'postgres';

/** Number of the element type → number of its array type (fixed in PostgreSQL's pg_type.dat). */
const ARRAY_OF: Record<number, number> = {
  16: 1000, // boolean
  17: 1001, // bytea
  19: 1003, // name
  20: 1016, // bigint
  21: 1005, // smallint
  23: 1007, // integer
  25: 1009, // text
  26: 1028, // oid
  114: 199, // json
  700: 1021, // real
  701: 1022, // double precision
  1042: 1014, // character
  1043: 1015, // character varying
  1082: 1182, // date
  1114: 1115, // timestamp
  1184: 1185, // timestamp with time zone
  1700: 1231, // numeric
  2950: 2951, // uuid
  3802: 3807, // jsonb
};

type Parse = (text: string) => unknown;
type Serialize = (value: unknown) => unknown;

/** The parts of the driver's options that hold its knowledge of types. */
interface TypeKnowledge {
  parsers: Record<number, Parse | undefined>;
  serializers: Record<number, Serialize | undefined>;
  shared: { typeArrayMap: Record<number, number> };
}

export function teachArrays(client: Sql): void {
  const known = client.options as unknown as TypeKnowledge;
  for (const [element, array] of Object.entries(ARRAY_OF).map(([key, value]) => [Number(key), value] as const)) {
    known.shared.typeArrayMap[element] = array;
    // Looked up at each use: Drizzle replaces some of them after this.
    known.parsers[array] = (text) => parseArray(text, (item) => known.parsers[element]?.(item) ?? item);
    known.serializers[array] = (value) =>
      Array.isArray(value) ? arrayLiteral(value, (item) => known.serializers[element]?.(item) ?? item) : value;
  }
}

/** `{1,NULL,"a \"b\"",{2}}` → values; unquoted NULL is null. Lower bounds (`[2:3]=…`) are dropped. */
export function parseArray(text: string, parse: Parse): unknown[] {
  let at = text.indexOf('{');
  const quoted = (): string => {
    let value = '';
    for (at += 1; text[at] !== '"'; at += 1) {
      if (at >= text.length) throw new Error(`Not an array: ${text.slice(0, 100)}`);
      if (text[at] === '\\') at += 1;
      value += text[at];
    }
    at += 1;
    return value;
  };
  const bare = (): string => {
    const from = at;
    while (at < text.length && text[at] !== ',' && text[at] !== '}') at += 1;
    return text.slice(from, at);
  };
  const list = (): unknown[] => {
    const values: unknown[] = [];
    at += 1;
    while (text[at] !== '}') {
      if (at >= text.length) throw new Error(`Not an array: ${text.slice(0, 100)}`);
      if (text[at] === '{') values.push(list());
      else if (text[at] === '"') values.push(parse(quoted()));
      else {
        const item = bare();
        values.push(item === 'NULL' ? null : parse(item));
      }
      if (text[at] === ',') at += 1;
    }
    at += 1;
    return values;
  };
  if (at < 0) throw new Error(`Not an array: ${text.slice(0, 100)}`);
  return list();
}

/** @throws {Error} for an undefined item, which would otherwise be stored as a word */
export function arrayLiteral(values: readonly unknown[], serialize: Serialize): string {
  const items = values.map((value) => {
    if (value === undefined) throw new Error('An array for the database holds undefined');
    if (value === null) return 'NULL';
    if (Array.isArray(value)) return arrayLiteral(value, serialize);
    return `"${String(serialize(value)).replace(/[\\"]/g, '\\$&')}"`;
  });
  return `{${items.join(',')}}`;
}
