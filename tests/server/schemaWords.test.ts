import Fastify from 'fastify';
import { expect, test } from 'vitest';
import { fieldProblems, type SchemaError } from '../../server/schemaWords.ts';
import { nullable, object, Type, words } from '../../shared/contract/schema.ts';

const schema = object({
  name: Type.String({ minLength: 2, maxLength: 4 }),
  size: Type.Number({ minimum: 1, maximum: 9 }),
  count: Type.Optional(Type.Integer()),
  kind: Type.Optional(words(['a', 'b'] as const)),
  list: Type.Optional(Type.Array(Type.Union([Type.Number(), Type.Null()]), { minItems: 1, maxItems: 2 })),
  either: Type.Optional(Type.Union([object({ x: Type.Number() }), Type.Array(Type.Number())])),
  perhaps: Type.Optional(nullable(Type.Number())),
});
const good = { name: 'abc', size: 5 };

const problemsOf = async (body: unknown) => {
  const app = Fastify({ ajv: { customOptions: { coerceTypes: false, removeAdditional: false, allErrors: false } } });
  app.post('/', { schema: { body: schema } }, async () => 'fine');
  app.setErrorHandler((error: { validation?: SchemaError[] }, _request, reply) =>
    reply.code(400).send(fieldProblems(error.validation ?? [], 'body')),
  );
  const answer = await app.inject({ method: 'POST', url: '/', payload: body as object });
  return answer.statusCode === 200 ? [] : answer.json();
};

test.each<[unknown, string, string]>([
  [[], '/', 'must be an object'],
  [{ size: 5 }, '/name', 'is missing'],
  [{ ...good, name: 'a' }, '/name', 'must have at least 2 characters'],
  [{ ...good, name: 'abcde' }, '/name', 'must have at most 4 characters'],
  [{ ...good, name: 7 }, '/name', 'must be a text'],
  [{ ...good, size: null }, '/size', 'must be a finite number'],
  [{ ...good, size: '5' }, '/size', 'must be a finite number'],
  [{ ...good, size: 0 }, '/size', 'must be at least 1'],
  [{ ...good, size: 10 }, '/size', 'must be at most 9'],
  [{ ...good, count: 1.5 }, '/count', 'must be a whole number'],
  [{ ...good, kind: 'c' }, '/kind', 'must be one of a, b'],
  [{ ...good, list: [] }, '/list', 'must have at least 1 entries'],
  [{ ...good, list: [1, null, 2] }, '/list', 'must have at most 2 entries'],
  [{ ...good, list: [1, 'x'] }, '/list/1', 'must be a finite number or null'],
  [{ ...good, either: 5 }, '/either', 'must be an object or a list'],
  [{ ...good, either: { x: 'y' } }, '/either/x', 'must be a finite number'],
  [{ ...good, either: [1, 'y'] }, '/either/1', 'must be a finite number'],
  [{ ...good, 'a/b~c': 1 }, '/a~1b~0c', 'is not a field that is known here'],
])('%j: %s %s', async (body, path, problem) => {
  expect(await problemsOf(body)).toEqual([{ path, problem }]);
});

test('null is taken where it is allowed', async () => {
  expect(await problemsOf({ ...good, perhaps: null, list: [null] })).toEqual([]);
});
