/** Says in words what a schema check found, with a path that names the field. */

/** An error of the schema checker, as far as it is needed here. */
export interface SchemaError {
  keyword: string;
  instancePath: string;
  schemaPath: string;
  params: Record<string, unknown>;
  message?: string;
}

export interface FieldProblem {
  path: string;
  problem: string;
}

const TYPE_WORDS: Record<string, string> = {
  object: 'an object',
  array: 'a list',
  string: 'a text',
  number: 'a finite number',
  integer: 'a whole number',
  boolean: 'true or false',
  null: 'null',
};

const list = (words: readonly unknown[]): string => words.map(String).join(', ');

type Say = (params: Record<string, unknown>) => string;
const SAY: Record<string, Say> = {
  type: ({ type }) => `must be ${TYPE_WORDS[String(type)] ?? String(type)}`,
  required: () => 'is missing',
  additionalProperties: () => 'is not a field that is known here',
  enum: ({ allowedValues }) => `must be one of ${list(allowedValues as unknown[])}`,
  const: ({ allowedValue }) => `must be ${String(allowedValue)}`,
  minLength: ({ limit }) => (limit === 1 ? 'must not be empty' : `must have at least ${limit} characters`),
  maxLength: ({ limit }) => `must have at most ${limit} characters`,
  minItems: ({ limit }) => `must have at least ${limit} entries`,
  maxItems: ({ limit }) => `must have at most ${limit} entries`,
  minimum: ({ limit }) => `must be at least ${limit}`,
  maximum: ({ limit }) => `must be at most ${limit}`,
  exclusiveMinimum: ({ limit }) => `must be greater than ${limit}`,
  pattern: ({ pattern }) => `must match ${String(pattern)}`,
  discriminator: ({ error }) => (error === 'tag' ? 'must be a text' : 'is not a word that is known here'),
};

const escapePointer = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1');

/** The field itself, where the checker names only the object around it. */
const pathOf = (error: SchemaError): string => {
  const own = error.params.missingProperty ?? error.params.additionalProperty ?? error.params.tag;
  return typeof own === 'string' ? `${error.instancePath}/${escapePointer(own)}` : error.instancePath;
};

/**
 * The errors of the alternative that was meant: the one whose kind of value fits. Where none or several fit, one
 * error that lists the kinds.
 */
const ofTheMeantBranch = (union: SchemaError, errors: readonly SchemaError[]): FieldProblem => {
  const branches = new Map<string, SchemaError[]>();
  for (const error of errors) {
    if (!error.schemaPath.startsWith(`${union.schemaPath}/`)) continue;
    const branch = error.schemaPath.slice(union.schemaPath.length + 1).split('/')[0] as string;
    branches.set(branch, [...(branches.get(branch) ?? []), error]);
  }
  const wrongKind = (error: SchemaError) => error.keyword === 'type' && error.instancePath === union.instancePath;
  const meant = [...branches.values()].filter((branch) => !branch.some(wrongKind));
  if (meant.length === 1 && meant[0]) return firstProblem(meant[0]);
  const kinds = [...branches.values()].flat().filter(wrongKind);
  const words = kinds.map((error) => TYPE_WORDS[String(error.params.type)] ?? String(error.params.type));
  return { path: union.instancePath, problem: `must be ${words.join(' or ')}` };
};

const firstProblem = (errors: readonly SchemaError[]): FieldProblem => {
  const union = errors
    .filter((error) => error.keyword === 'anyOf')
    .sort((a, b) => a.schemaPath.length - b.schemaPath.length)[0];
  if (union) return ofTheMeantBranch(union, errors);
  const error = errors[0] as SchemaError;
  return {
    path: pathOf(error),
    problem: (SAY[error.keyword] ?? (() => error.message ?? 'is not valid'))(error.params),
  };
};

/** @param where `body` (JSON pointers), `querystring`, `params` or `headers` (the name of the field) */
export const fieldProblems = (errors: readonly SchemaError[], where: string): FieldProblem[] => {
  const found = firstProblem(errors);
  if (where === 'body') return [{ path: found.path === '' ? '/' : found.path, problem: found.problem }];
  return [{ path: found.path.replace(/^\//, '').replaceAll('/', '.'), problem: found.problem }];
};
