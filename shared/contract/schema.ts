import { type Static, type TSchema, Type } from 'typebox';

/** Every object of the contract refuses unknown fields. */
export const object = <P extends Record<string, TSchema>>(properties: P, description?: string) =>
  Type.Object(properties, { additionalProperties: false, ...(description ? { description } : {}) });

/** A union of words, kept as a JSON Schema `enum` so that errors can list them. */
export const words = <const W extends readonly string[]>(list: W, description?: string) =>
  Type.Unsafe<W[number]>({ type: 'string', enum: [...list], ...(description ? { description } : {}) });

/**
 * Null, or what the schema says. Plain types become a list of two types, which is read and written faster than a
 * choice between two schemas.
 */
export const nullable = <S extends TSchema>(schema: S) => {
  const { type, enum: list, ...rest } = schema as { type?: unknown; enum?: unknown[] };
  const plain = type === 'number' || type === 'integer' || type === 'string';
  return Type.Unsafe<Static<S> | null>(
    plain
      ? { type: [type, 'null'], ...(list ? { enum: [...list, null] } : {}), ...rest }
      : { anyOf: [schema, { type: 'null' }] },
  );
};

/** Ids of areas, chambers and analysers: what fits a path, a label and a file name. */
export const Id = Type.String({ minLength: 1, maxLength: 64, pattern: '^[A-Za-z0-9][A-Za-z0-9._-]*$' });
export const Instant = Type.String({ description: 'RFC 3339, UTC or with offset', maxLength: 40 });
export type { Static };
export { Type };
