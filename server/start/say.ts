/** What the person at the terminal reads, on standard output; the log of the processes goes to standard error. */
export const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** A reason not to start that the person can do something about: shown without a stack. */
export class StartError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'StartError';
  }
}
