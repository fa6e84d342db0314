/** An event source that a test drives; the part of the interface that the stream uses. */
export function fakeSource(address: string) {
  const listeners = new Map<string, (message: { data: string; lastEventId: string }) => void>();
  return {
    address,
    onopen: null as (() => void) | null,
    onerror: null as (() => void) | null,
    closed: false,
    addEventListener: (kind: string, listener: (message: { data: string; lastEventId: string }) => void) => {
      listeners.set(kind, listener);
    },
    close() {
      this.closed = true;
    },
    say(kind: string, data: string, lastEventId = '') {
      if (!this.closed) listeners.get(kind)?.({ data, lastEventId });
    },
  };
}
