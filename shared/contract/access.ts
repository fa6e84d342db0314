import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { PRESSURE_UNITS, ROLES, THEMES, ZONE_CHOICES } from './words.ts';

export const NewToken = object({
  name: Type.String({ minLength: 1, maxLength: 120 }),
  role: words(ROLES),
  analysers: Type.Optional(Type.Array(Type.String({ maxLength: 64 }), { maxItems: 40_000 })),
});
export const MadeToken = object({
  id: Type.String(),
  token: Type.String({ description: 'Shown once; only its hash is kept' }),
});
export const TokenLine = object({
  id: Type.String(),
  name: Type.String(),
  role: words(ROLES),
  analysers: nullable(Type.Array(Type.String())),
  createdAt: Instant,
  lastUsedAt: nullable(Instant),
});
export type TokenLine = Static<typeof TokenLine>;

const PEOPLE_ROLES = ['viewer', 'operator', 'engineer', 'admin'] as const;
export const NewPerson = object({
  login: Type.String({ minLength: 1, maxLength: 64, pattern: '^[A-Za-z0-9][A-Za-z0-9._@-]*$' }),
  name: Type.String({ minLength: 1, maxLength: 120 }),
  role: words(PEOPLE_ROLES),
  password: Type.String({ minLength: 12, maxLength: 256 }),
});
export const PersonLine = object({
  login: Type.String(),
  name: Type.String(),
  role: words(PEOPLE_ROLES),
  createdAt: Instant,
  lastSeenAt: nullable(Instant),
});
export type PersonLine = Static<typeof PersonLine>;
export const ChangePerson = object({
  name: Type.Optional(Type.String({ minLength: 1, maxLength: 120 })),
  role: Type.Optional(words(PEOPLE_ROLES)),
  password: Type.Optional(Type.String({ minLength: 12, maxLength: 256 })),
  retired: Type.Optional(Type.Boolean()),
});

/** How a person reads the page, in whichever browser. */
export const Preferences = object({
  unit: nullable(words(PRESSURE_UNITS, 'null: the unit of the site')),
  theme: words(THEMES),
  zone: words(ZONE_CHOICES, "times of the site, or of the reader's browser"),
  keys: Type.Boolean({ description: 'single-letter keys act' }),
});
export type Preferences = Static<typeof Preferences>;

export const SignIn = object({ login: Type.String({ maxLength: 64 }), password: Type.String({ maxLength: 256 }) });
/** For a display on a wall: a session that lasts as long as the token. */
export const SignInWithToken = object({ token: Type.String({ minLength: 1, maxLength: 256 }) });
/** The one-time link that the first start prints: it makes the first account and signs it in. */
export const SetUp = object({
  key: Type.String({ maxLength: 128 }),
  login: Type.String({ minLength: 1, maxLength: 64, pattern: '^[A-Za-z0-9][A-Za-z0-9._@-]*$' }),
  name: Type.String({ minLength: 1, maxLength: 120 }),
  password: Type.String({ minLength: 12, maxLength: 256 }),
});

/** Who is asking, and what every page needs to know once. */
export const Session = object({
  who: nullable(
    object({
      kind: words(['person', 'token'] as const),
      login: Type.String(),
      name: Type.String(),
      role: words(ROLES),
    }),
  ),
  preferences: nullable(Preferences),
  site: object({
    name: Type.String(),
    example: Type.Boolean({ description: 'the example fleet is loaded: every page says so' }),
    timeZone: Type.String(),
    unit: words(PRESSURE_UNITS),
  }),
  needsSetUp: Type.Boolean({ description: 'no account exists yet' }),
  version: Type.String(),
  now: Instant,
  events: Type.String({ description: 'where the stream of events is now: ask it for what came after' }),
});
export type Session = Static<typeof Session>;
