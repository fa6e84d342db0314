/** JSON bodies of all routes but the scans: an empty one is no body, and a packed one is refused by name. */
import type { App } from './deps.ts';
import { malformed, ProblemError } from './errors.ts';
import { unstorableText } from './storableText.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    takesGzip?: boolean;
  }
}

export const checkBodies = (app: App): void => {
  const parse = app.getDefaultJsonParser('error', 'error');
  app.removeContentTypeParser(['application/json', 'text/plain']);
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (request, body, done) => {
    if (typeof body === 'string' && body.trim() === '') done(null, undefined);
    else parse(request, body as string, done);
  });
  app.addHook('preParsing', async (request) => {
    const encoding = request.headers['content-encoding'];
    if (encoding !== undefined && encoding !== 'identity' && !request.routeOptions.config.takesGzip)
      throw new ProblemError(415, 'This endpoint does not take a Content-Encoding.');
  });
  app.addHook('preValidation', async (request) => {
    const text = request.routeOptions.config.takesGzip ? null : unstorableText(request.body);
    if (text !== null) throw malformed(text.path, text.problem);
    // Every field of some bodies is optional, and then the body is too.
    const { body } = (request.routeOptions.schema ?? {}) as { body?: { type?: string; required?: string[] } };
    if (request.body === undefined && body?.type === 'object' && !body.required?.length) request.body = {};
  });
};
