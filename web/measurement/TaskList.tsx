import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Task } from '../../shared/contract/calibration.ts';
import { tasksQuestion } from '../api/measurementQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { ChangeTable } from './ChangeTable.tsx';

const words = all.taskList;

interface TaskListProps {
  readonly analyser: string;
  readonly chamber: string;
}

const STATE_WORD: Readonly<Record<Task['state'], string>> = {
  waiting: words.beingWorkedOut,
  done: 'done',
  failed: 'failed',
};

/** What people have asked workers for, newest first, with what became of it. */
export function TaskList({ analyser, chamber }: TaskListProps) {
  const question = useQuery(tasksQuestion(analyser));
  return (
    <Answered question={question} what={words.theTasks} lines={2}>
      {({ tasks }) => {
        const shown = [...tasks].sort((a, b) => Date.parse(b.askedAt) - Date.parse(a.askedAt));
        if (shown.length === 0) {
          return <p className="note">{words.nothingHasBeenAsked}</p>;
        }
        return (
          <ol className="history" aria-live="polite">
            {shown.map((task) => (
              <TaskLine key={task.id} task={task} chamber={chamber} />
            ))}
          </ol>
        );
      }}
    </Answered>
  );
}

/** The trend with the recomputed series beside the judged one, over the period that was recomputed. */
export function recomputedPath(task: Task, chamber: string): string | null {
  if (task.request.kind !== 'recomputation' || task.state !== 'done') return null;
  const { from, to } = task.request;
  const search = new URLSearchParams({ analyser: task.analyser, from, to, recomputation: task.id });
  return `/chambers/${encodeURIComponent(chamber)}?${search}`;
}

function TaskLine({ task, chamber }: { readonly task: Task; readonly chamber: string }) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const path = recomputedPath(task, chamber);
  return (
    <li>
      <div className="when">
        <b>{STATE_WORD[task.state]}</b>
        <span className="note">{at(task.finishedAt ?? task.askedAt)}</span>
      </div>
      <div>
        <p>
          {askedText(task, at)}
          {task.scans === null ? '' : `, ${several(task.scans, 'scan')}`}
        </p>
        <p className="note">
          {words.askedBy(
            task.askedBy,
            at(task.askedAt),
            'note' in task.request && task.request.note ? `: “${task.request.note}”` : '',
          )}
        </p>
        {task.problem ? (
          <p className="so-say">
            <Sentence text={task.problem} />
          </p>
        ) : null}
        {task.change ? <ChangeTable change={task.change} /> : null}
        {task.calibration ? <p className="note">{words.itMadeAProposal}</p> : null}
      </div>
      {path ? (
        <Link className="btn" href={path}>
          {words.drawItBesideThe}
        </Link>
      ) : null}
    </li>
  );
}

function askedText({ request }: Task, at: (instant: string) => string): string {
  switch (request.kind) {
    case 'pattern':
      return words.patternOfFromScans(gasTitle(request.gas), at(request.from), at(request.to));
    case 'background':
      return words.theAnalyserSOwn(at(request.from), at(request.to), request.source);
    case 'recomputation':
      return (
        words.recomputation(at(request.from), at(request.to)) +
        (request.calibrationOf ? words.calibrationOf(at(request.calibrationOf)) : words.eachScanWithThat)
      );
    case 'change':
      return words.changeBetweenAnd(at(request.before), at(request.after));
  }
}
