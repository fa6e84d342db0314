/** Serves the built page, with headers that let nothing else in. Addresses of pages are answered with the one page. */
import { mkdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import helmet from '@fastify/helmet';
import files from '@fastify/static';
import type { App } from './deps.ts';

const DIRECTIVES = {
  'default-src': ["'none'"],
  'script-src': ["'self'"],
  'style-src': ["'self'"],
  'img-src': ["'self'", 'data:', 'blob:'],
  'connect-src': ["'self'"],
  'font-src': ["'self'"],
  'manifest-src': ["'self'"],
  'base-uri': ["'none'"],
  'form-action': ["'self'"],
  'frame-ancestors': ["'none'"],
};

const protect = async (app: App): Promise<void> => {
  await app.register(helmet, {
    // Without TLS in front these two would lock every browser out of a plain-http address.
    strictTransportSecurity: false,
    contentSecurityPolicy: { useDefaults: false, directives: DIRECTIVES },
    crossOriginEmbedderPolicy: false,
    xFrameOptions: { action: 'deny' },
    referrerPolicy: { policy: 'same-origin' },
  });
};

/** A path without a dot in its last part is a page; one with a dot is a file that would have been found. */
const isPage = (method: string, url: string): boolean => {
  const path = url.split('?')[0] ?? '';
  const ours = /^\/(api|health|metrics)(\/|$)/.test(path) || path.split('/').at(-1)?.includes('.');
  return (method === 'GET' || method === 'HEAD') && !ours;
};

/** The page, for an address that is no file and belongs to no route; null where none is built. Read anew each time, so that a new build is seen. */
export const pageAt = async (
  webRoot: string | null,
  request: { method: string; url: string },
): Promise<Buffer | null> => {
  if (webRoot === null || !isPage(request.method, request.url)) return null;
  return await readFile(join(webRoot, 'index.html')).catch(() => null);
};

/** The build names files by their content: what is once there never changes. */
const NAMED_BY_CONTENT = /\/assets\//;

export const servePage = async (app: App, webRoot: string | null): Promise<void> => {
  await protect(app);
  if (webRoot === null) return;
  mkdirSync(webRoot, { recursive: true });
  await app.register(async (scope) => {
    scope.addHook('onRoute', (route) => {
      route.config = { ...route.config, policy: 'open' };
      route.schema = { hide: true };
    });
    // The files answer for everything below, but take the root itself for a forbidden folder.
    scope.get('/', (_request, reply) => reply.callNotFound());
    await scope.register(files, {
      root: webRoot,
      index: false,
      cacheControl: false,
      setHeaders: (reply, path) => {
        const forEver = NAMED_BY_CONTENT.test(path);
        reply.header('cache-control', forEver ? 'public, max-age=31536000, immutable' : 'no-cache');
      },
    });
  });
};
