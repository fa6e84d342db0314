/**
 * One task at a time in this process, and one that waits for it: what people ask for may be long, and must leave room
 * for what the chambers send. A third is turned away and comes back with the sweep.
 */
export type Gate = (work: () => Promise<boolean>) => Promise<boolean>;

export const openGate = (): Gate => {
  let inside: Promise<unknown> | null = null;
  let waiting = false;
  const enter = async (work: () => Promise<boolean>): Promise<boolean> => {
    const running = work();
    // Whoever waits hears only that it is over.
    const over = running.then(
      () => {},
      () => {},
    );
    inside = over;
    try {
      return await running;
    } finally {
      if (inside === over) inside = null;
    }
  };
  return async (work) => {
    if (waiting) return false;
    if (inside !== null) {
      waiting = true;
      await inside;
      waiting = false;
    }
    return await enter(work);
  };
};
