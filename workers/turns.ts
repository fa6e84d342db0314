/**
 * One turn per chamber at a time within this process. A nudge that comes while its chamber is being worked on is not
 * lost: the turn is followed by another.
 */
export type TakeTurn = (chamber: string) => Promise<void>;

export const openTurns = (work: (chamber: string) => Promise<void>): TakeTurn => {
  const running = new Map<string, { again: boolean; done: Promise<void> }>();

  const run = async (chamber: string) => {
    try {
      for (;;) {
        await work(chamber);
        const turn = running.get(chamber);
        if (!turn?.again) return;
        turn.again = false;
      }
    } finally {
      running.delete(chamber);
    }
  };

  return (chamber) => {
    const turn = running.get(chamber);
    if (turn) {
      turn.again = true;
      return turn.done;
    }
    const started = { again: false, done: Promise.resolve() };
    running.set(chamber, started);
    started.done = run(chamber);
    return started.done;
  };
};
