/** Runs beside the pages of a browser and holds their one stream. */
import { makeHub, type ToHub } from './hub.ts';
import { browserParts } from './streamParts.ts';

const hub = makeHub(browserParts);
const scope = globalThis as unknown as { onconnect: ((event: MessageEvent) => void) | null };

scope.onconnect = ({ ports: [port] }) => {
  if (port) port.onmessage = ({ data }: MessageEvent<ToHub>) => hub.take(port, data);
};
