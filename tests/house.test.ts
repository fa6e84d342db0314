/** The walls of the house, checked. Each failure says why the wall stands. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '..');
const read = (file: string) => readFileSync(join(root, file), 'utf8');

/** Tracked files and new ones that are not ignored: what a clone would hold. */
const files = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file !== '' && existsSync(join(root, file)));
const sources = files.filter((file) => /\.(ts|tsx|mjs)$/.test(file));
const rooms = sources.filter((file) => !file.startsWith('tests/'));

interface Import {
  readonly file: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

const importPattern =
  /^\s*(?:import|export)\s+(type\s+)?(?:[^'"]*?\sfrom\s+)?['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)/gm;

const importsOf = (file: string): Import[] =>
  [...read(file).matchAll(importPattern)].map((match) => {
    const spec = (match[2] ?? match[3]) as string;
    const target = spec.startsWith('.') ? relative(root, resolve(root, dirname(file), spec)) : spec;
    return { file, target, typeOnly: match[1] !== undefined };
  });

const allImports = rooms.flatMap(importsOf);

interface Wall {
  readonly room: RegExp;
  readonly may: RegExp;
  readonly why: string;
  /** What may be taken as a type only. */
  readonly types?: RegExp;
}

const contract = /^shared\/(units\.ts|contract\/)|^typebox$/;
const WALLS: readonly Wall[] = [
  {
    room: /^shared\/(units\.ts|contract\/)/,
    may: contract,
    why: 'The words of the house depend on nothing but each other.',
  },
  {
    room: /^shared\/catalogue\//,
    may: /^shared\/(units\.ts|contract\/|catalogue\/)/,
    why: 'Facts depend on nothing that is computed from them.',
  },
  {
    room: /^shared\/analysis\//,
    may: /^shared\/(units\.ts|contract\/|catalogue\/|analysis\/)/,
    why: 'Mathematics: numbers in, numbers out; no clock, no I/O, no packages.',
  },
  {
    room: /^shared\/watch\//,
    may: /^shared\/(units\.ts|contract\/|catalogue\/|analysis\/|watch\/)/,
    why: 'Decisions are pure: what happened and when are arguments.',
  },
  {
    room: /^shared\/measurement\//,
    may: /^shared\/(units\.ts|contract\/|measurement\/)/,
    why: 'Small sums over what is stored, light enough for a request: they know nothing of spectra.',
  },
  {
    room: /^shared\/db\//,
    may: /^shared\/|^drizzle-orm(\/|$)|^postgres$|^node:/,
    why: 'Only this room and its callers know the database.',
  },
  {
    room: /^shared\/queues(\.ts$|\/)/,
    may: /^shared\/|^(bullmq|ioredis|pg|node:.*)$/,
    why: 'The one place that knows the queue, so that it can be replaced.',
  },
  {
    room: /^server\/demo\//,
    may: /^shared\/units\.ts$|^server\/demo\/|^node:/,
    types: /^shared\/contract\//,
    why: 'The example speaks HTTP like any gateway; if it shared the catalogue or the analysis, it would agree with itself.',
  },
  {
    room: /^server\/start\//,
    may: /^server\/start\/|^server\/demo\/fleet\.ts$|^shared\/(log\.ts|settings\.ts|db\/|queues\.ts)|^node:|^postgres$/,
    why: 'Starting knows settings, the database and child processes, nothing of the trade.',
  },
  {
    room: /^server\/(?!demo\/|start\/)/,
    may: /^server\/(?!demo\/|start\/)|^shared\/(?!analysis\/)|^node:|^(fastify|@fastify\/.*|drizzle-orm|drizzle-orm\/.*|postgres|typebox|typebox\/.*|prom-client|fflate|@node-rs\/argon2|temporal-polyfill)$/,
    types: /^shared\/analysis\//,
    why: 'The server asks and answers; a request must never stall on mathematics, and workers are reached only through the database.',
  },
  {
    room: /^workers\//,
    may: /^workers\/|^shared\/|^node:|^(drizzle-orm|drizzle-orm\/.*|postgres)$/,
    why: 'Workers calculate; they meet the server only in the database and in the queue.',
  },
  {
    room: /^web\//,
    may: /^web\/|^shared\/(units|contract\/(words|recent))\.ts$|^node:|^(react|react-dom|react-dom\/.*|react\/.*|wouter|@tanstack\/react-query|vite|@vitejs\/plugin-react)$/,
    types: /^shared\/contract\//,
    why: 'The page draws what the server says and knows no physics; its only values from shared are unit conversions, words, and where a reader of the event stream stands.',
  },
  {
    room: /^migrations\//,
    may: /^drizzle-kit$|^node:/,
    why: 'Migrations import nothing: they must mean the same for ever.',
  },
];

describe('import walls', () => {
  test.each(WALLS.map((wall) => [String(wall.room), wall] as const))('%s', (_name, wall) => {
    const broken = allImports
      .filter(({ file }) => wall.room.test(file))
      .filter(({ target, typeOnly }) => !(wall.may.test(target) || (typeOnly && wall.types?.test(target))))
      .filter(({ file, target }) => !(file.startsWith('web/charts/') && target === 'recharts'))
      .map(({ file, target }) => `${file} imports ${target}`);
    expect(broken, wall.why).toEqual([]);
  });

  test('Recharts is known in web/charts only, so that it can be replaced there', () => {
    expect(allImports.filter((i) => i.target === 'recharts' && !i.file.startsWith('web/charts/'))).toEqual([]);
  });

  test('every room lies behind a wall', () => {
    const known = [...WALLS.map((wall) => wall.room), /^shared\/(settings|log)\.ts$/];
    expect(rooms.filter((file) => !known.some((room) => room.test(file)))).toEqual([]);
  });
});

describe('shape of the house', () => {
  test('the root holds exactly what was agreed', () => {
    const agreed =
      /^(server|web|workers|shared|migrations|tests|docker-compose\.yml|README\.md|DEVELOPERS\.md|CHANGELOG\.md|LICENSE|package(-lock)?\.json|tsconfig\.json|\..+)$/;
    const entries = [...new Set(files.map((file) => file.split('/')[0] as string))];
    expect(
      entries.filter((entry) => !agreed.test(entry)),
      'tool settings live in the room they serve',
    ).toEqual([]);
  });

  test('no drawer without a subject', () => {
    const drawers =
      /(^|\/)(utils?|helpers?|common|lib|misc|services?|repositor(y|ies)|controllers?|managers?)(\/|\.[a-z]+$)/i;
    const found = files.filter((file) => drawers.test(file) && file !== 'tests/support/services.ts');
    expect(found, 'a file is one idea and is named for it').toEqual([]);
  });

  test('files are short enough to be read at once', () => {
    const long = rooms
      .filter((file) => !/^shared\/(catalogue\/gases\/|catalogue\/sources\.ts|db\/tables\.ts)/.test(file))
      .map((file) => [file, read(file).split('\n').length] as const)
      .filter(([, lines]) => lines > 251);
    expect(long, 'at most 250 lines; catalogue and tables excepted').toEqual([]);
  });

  test('no enums, no default exports, classes only for errors', () => {
    const found = rooms.flatMap((file) => {
      const text = read(file);
      return [
        /^\s*(export\s+)?(const\s+)?enum\s/m.test(text) ? `${file}: enum` : '',
        /^export default/m.test(text) && !/config\.ts$/.test(file) ? `${file}: default export` : '',
        /^\s*(export\s+)?class\s+(?!\w*(Error|Problem|Unreadable)\b)/m.test(text) ? `${file}: class` : '',
      ].filter(Boolean);
    });
    expect(found).toEqual([]);
  });

  test('a test stands where its subject stands', () => {
    const rooms = /^tests\/(shared|server|workers|web)\/(.+)\.test\.tsx?$/;
    const orphans = files
      .map((file) => rooms.exec(file))
      .filter((match): match is RegExpExecArray => match !== null)
      .filter(([, room, path]) => {
        const candidates = [`${path}.ts`, `${path}.tsx`, `${path}.mjs`, `${path}/`, `${path}`];
        return !candidates.some((candidate) => existsSync(join(root, room as string, candidate)));
      })
      .map(([file]) => file);
    expect(orphans, 'the mirror tells where to look').toEqual([]);
  });

  test('every file of mathematics and of decisions has a test that names it', () => {
    const tests = files.filter((file) => /^tests\/.*\.test\.tsx?$/.test(file)).map(read);
    const untested = rooms
      .filter(
        (file) => /^shared\/(analysis|watch|catalogue)\//.test(file) && !/(types|sources)\.ts$|\/gases\//.test(file),
      )
      .filter((file) => !tests.some((text) => text.includes(`/${file}'`)));
    expect(untested).toEqual([]);
  });
});

describe('documents', () => {
  const scripts = Object.keys((JSON.parse(read('package.json')) as { scripts: Record<string, string> }).scripts);

  test.each(['README.md', 'DEVELOPERS.md'])('%s names only scripts that exist', (document) => {
    const named = [...read(document).matchAll(/npm (?:run )?([a-z][a-z:]*)/g)]
      .map((match) => match[1] as string)
      .filter((name) => !['ci', 'install', 'run'].includes(name));
    expect(named.filter((name) => !scripts.includes(name))).toEqual([]);
  });

  test('DEVELOPERS.md has a line for every room', () => {
    const text = read('DEVELOPERS.md');
    const folders = [...new Set(rooms.map((file) => dirname(file)))].filter((folder) => !/\/gases$/.test(folder));
    expect(folders.filter((folder) => !text.includes(folder.split('/').at(-1) as string))).toEqual([]);
  });

  test('nothing speaks of a machine, and no text is left unfinished', () => {
    const found = files
      .filter((file) => /\.(ts|tsx|mjs|css|md|yml|sql|html)$/.test(file) && file !== 'tests/house.test.ts')
      .flatMap((file) =>
        read(file)
          .split('\n')
          .map((line, i) => [`${file}:${i + 1}`, line] as const)
          .filter(([, line]) => /\b(TODO|FIXME|XXX)\b|\/root\/|\/work\//.test(line))
          .map(([where, line]) => `${where}: ${line.trim()}`),
      );
    expect(found).toEqual([]);
  });
});
