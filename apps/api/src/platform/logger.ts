import { pino } from 'pino';

/** The process's log: one JSON object a line. No identities, no request bodies. */
export const logger = pino({
  level: process.env['LOG_LEVEL'] ?? 'info',
  redact: ['req.headers.cookie', 'req.headers.authorization', '*.password'],
});
