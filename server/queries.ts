/**
 * Query strings are text; numbers and booleans in them are read as what the schema says. What does not look like one
 * stays text and is refused by the schema. A parameter that the route does not know is refused as well.
 */
import { object } from '../shared/contract/schema.ts';
import type { App } from './deps.ts';

interface QuerySchema {
  properties?: Record<string, { type?: string }>;
}

/** As programs write numbers: up to 17 digits tell every float64 apart, and pressures have an exponent. */
const NUMBER = /^-?\d{1,17}(\.\d{1,17})?([eE][+-]?\d{1,3})?$/;

const read = (text: string, type: string | undefined): unknown => {
  if ((type === 'integer' || type === 'number') && NUMBER.test(text)) return Number(text);
  if (type === 'boolean' && (text === 'true' || text === 'false')) return text === 'true';
  return text;
};

export const checkQueries = (app: App): void => {
  app.addHook('onRoute', (route) => {
    if (!route.url.startsWith('/api/')) return;
    route.schema = { querystring: object({}), ...route.schema };
  });
  app.addHook('preValidation', async (request) => {
    const { properties = {} } = (request.routeOptions.schema?.querystring ?? {}) as QuerySchema;
    const query = request.query as Record<string, unknown>;
    for (const [name, value] of Object.entries(query))
      if (typeof value === 'string') query[name] = read(value, properties[name]?.type);
  });
};
