import { isIP } from 'node:net';

/** Where a browser on this machine finds the product. A wildcard address is none that one can go to. */
export function addressOf(settings: { host: string; port: number }): string {
  const { host, port } = settings;
  if (host === '0.0.0.0' || host === '::') return `http://localhost:${port}`;
  return `http://${isIP(host) === 6 ? `[${host}]` : host}:${port}`;
}
