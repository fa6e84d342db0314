import { object, type Static, Type } from './schema.ts';

/** RFC 9457 problem details. */
export const Problem = object({
  type: Type.String(),
  title: Type.String(),
  status: Type.Integer(),
  detail: Type.Optional(Type.String()),
  instance: Type.Optional(Type.String({ description: 'id of the request' })),
  errors: Type.Optional(Type.Array(object({ path: Type.String(), problem: Type.String() }))),
});
export type Problem = Static<typeof Problem>;
