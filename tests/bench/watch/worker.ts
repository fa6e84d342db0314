/** A process of the bench: takes a piece of work, answers with its result. */
import { type Task, work } from './work.ts';

process.on('message', (task: Task) => {
  process.send!(work(task));
});

// Whoever gave the work is gone.
process.on('disconnect', () => process.exit());
