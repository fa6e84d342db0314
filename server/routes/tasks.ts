/** Work that a person asks for and the workers do: patterns, backgrounds, recomputations, changes between two scans. */
import { NewTaskBody, Task } from '../../shared/contract/calibration.ts';
import { Note } from '../../shared/contract/readings.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { countWaiting, insertTask, listTasks, readTask, type TaskRow } from '../../shared/db/tasks.ts';
import { whoAsks } from '../access.ts';
import { AnalyserParams, findAnalyser } from '../analysers.ts';
import { audited } from '../audit.ts';
import { CALIBRATION_CAUTIONS, taskCautions } from '../cautions.ts';
import type { App, Deps } from '../deps.ts';
import { notFound, ProblemError } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { judgeTask } from '../newTask.ts';
import { nudgeWithin } from '../nudge.ts';
import { mayUse, NEEDS } from '../policy.ts';
import { newId } from '../secrets.ts';

const TaskParams = object({ ...AnalyserParams.properties, task: Type.String({ maxLength: 64 }) });
const tags = ['calibration'];

/** More that wait for one analyser were asked for by a program gone wrong. */
const MOST_WAITING = 20;
const RETRY_S = 10;

export const presentTask = (row: TaskRow): Task => {
  const notes = taskCautions(row.request);
  return {
    id: row.id,
    analyser: row.analyser,
    kind: row.kind,
    request: row.request,
    state: row.state,
    askedAt: iso(row.askedAt),
    askedBy: row.askedBy,
    finishedAt: isoOrNull(row.finishedAt),
    problem: row.problem,
    calibration: row.calibration,
    scans: row.scans,
    change: row.change,
    ...(notes.length > 0 ? { notes } : {}),
  };
};

const checkWaiting = async ({ db }: Deps, analyser: string): Promise<void> => {
  const waiting = await countWaiting(db.sql, analyser);
  if (waiting >= MOST_WAITING)
    throw new ProblemError(429, `${waiting} tasks of ${analyser} are waiting already.`, { retryAfterSeconds: RETRY_S });
};

const askRoute = (app: App, deps: Deps): void => {
  app.post(
    '/api/v1/analysers/:id/tasks',
    {
      schema: {
        summary: 'Ask the workers for a pattern, a background, a recomputation (engineer) or a change (viewer)',
        description: 'A pattern or background becomes a proposed calibration; a recomputation a series of its own.',
        tags,
        params: AnalyserParams,
        body: NewTaskBody,
        response: { 202: Task },
      },
      // What only reads needs less than what may become a calibration: see below.
      config: { policy: 'viewer' },
    },
    async (request, reply) => {
      const who = whoAsks(request);
      const asked = request.body;
      if (asked.kind !== 'change' && !mayUse(who.role, 'engineer'))
        throw new ProblemError(403, `${NEEDS.engineer} ${who.by} has the role ${who.role}.`);
      const analyser = await findAnalyser(deps, request.params.id);
      await checkWaiting(deps, analyser.id);
      const judged = await judgeTask({ deps, analyser, request: asked });
      const at = deps.now();
      const row = await deps.db.transaction(async (tx) => {
        const id = newId('task');
        const { chamber } = analyser;
        const task = { chamber, analyser: analyser.id, id, request: judged, askedAt: at, askedBy: who.by };
        const inserted = await insertTask(tx, task);
        const detail = { analyser: analyser.id, id, request: judged };
        await audited(tx, { at, by: who.by, what: 'task asked for', detail });
        return inserted;
      });
      await nudgeWithin(deps, [analyser.chamber]);
      return reply.code(202).send(presentTask(row));
    },
  );
};

export const taskRoutes = (app: App, deps: Deps): void => {
  const { sql } = deps.db;
  askRoute(app, deps);

  app.get(
    '/api/v1/analysers/:id/tasks',
    {
      schema: {
        summary: 'What was asked for, newest first. Notes: what to mind when scans are taken for it',
        tags,
        params: AnalyserParams,
        response: { 200: object({ tasks: Type.Array(Task), notes: Type.Array(Note) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id } = await findAnalyser(deps, request.params.id);
      return { tasks: (await listTasks(sql, id)).map(presentTask), notes: [...CALIBRATION_CAUTIONS] };
    },
  );

  app.get(
    '/api/v1/analysers/:id/tasks/:task',
    {
      schema: {
        summary: 'One task: whether it is done, and with what',
        tags,
        params: TaskParams,
        response: { 200: Task },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id, task } = request.params;
      const row = await readTask(sql, task);
      if (row === null || row.analyser !== id) throw notFound(`Analyser ${id} has no task ${task}.`);
      return presentTask(row);
    },
  );
};
