/** An event source for Node, after the WHATWG HTML standard, section 9.2: as much of it as the page uses. */

/** @param headers of the request: a test has no cookie */
export const eventSource = (address: string, headers: Record<string, string>): EventSource => {
  const listeners = new Map<string, ((message: { data: string; lastEventId: string }) => void)[]>();
  const abort = new AbortController();
  const source = {
    onopen: null as (() => void) | null,
    onerror: null as (() => void) | null,
    addEventListener: (kind: string, listener: (message: { data: string; lastEventId: string }) => void) => {
      listeners.set(kind, [...(listeners.get(kind) ?? []), listener]);
    },
    close: () => abort.abort(),
  };
  let lastEventId = '';
  const dispatch = (block: string) => {
    let [kind, data] = ['message', ''];
    for (const line of block.split('\n')) {
      const [, name, value] = /^([^:]*): ?(.*)$/.exec(line) ?? [];
      if (name === 'event') kind = value as string;
      else if (name === 'data') data += value as string;
      else if (name === 'id') lastEventId = value as string;
    }
    // Without data nothing is dispatched; the id stays.
    if (data !== '') for (const listener of listeners.get(kind) ?? []) listener({ data, lastEventId });
  };
  const read = async () => {
    const answer = await fetch(address, { headers, signal: abort.signal });
    if (!answer.ok) throw new Error(`answered ${answer.status}`);
    source.onopen?.();
    const decoder = new TextDecoder();
    let text = '';
    for await (const chunk of answer.body as unknown as AsyncIterable<Uint8Array>) {
      text += decoder.decode(chunk, { stream: true });
      const blocks = text.split('\n\n');
      text = blocks.pop() ?? '';
      for (const block of blocks) if (!abort.signal.aborted) dispatch(block);
    }
    throw new Error('the stream has ended');
  };
  read().catch(() => {
    if (!abort.signal.aborted) source.onerror?.();
  });
  return source as unknown as EventSource;
};
