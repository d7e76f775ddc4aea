import type { INestApplication } from '@nestjs/common';
import { DocumentBuilder, SwaggerModule, type OpenAPIObject } from '@nestjs/swagger';
import { ownHeader } from './own-header.js';
import { sessionCookie } from './session-guard.js';

type Json = Record<string, unknown>;
interface Operation {
  responses: Record<string, { description: string; content?: Record<string, Json> }>;
}

/** The OpenAPI document, made from the routes themselves and the very schemas that check them. */
export function openApiOf(app: INestApplication): OpenAPIObject {
  const config = new DocumentBuilder()
    .setOpenAPIVersion('3.1.0')
    .setTitle('Lensferry')
    .setDescription(
      `Orders of custom phakic lenses, from plan to eye and back. Sign in with POST /api/session; the cookie ${sessionCookie} ` +
        `carries the session, and every change needs the header ${ownHeader}. Problems are RFC 9457. ` +
        'Decision support for licensed professionals; not a medical device.',
    )
    .setVersion('0.1.0')
    .setLicense('MIT', 'https://opensource.org/license/mit')
    .addCookieAuth(sessionCookie)
    .build();
  const document = SwaggerModule.createDocument(app, config, {
    standardSchemaConverter: asWritten() as never,
  });
  for (const path of Object.values(document.paths))
    for (const operation of Object.values(path as Record<string, Operation>)) answerProblems(operation);
  document.paths['/api/openapi.json'] = { get: ownOperation };
  return document;
}

/**
 * Schemas as JSON Schema 2020-12, which OpenAPI 3.1 is written in. One name stands for one shape: a schema that reads
 * otherwise in a request than in an answer has to be two.
 */
function asWritten() {
  const shapes = new Map<string, string>();
  return (schema: unknown, { schemaType }: { schemaType: 'input' | 'output' }) => {
    const convert = (schema as { '~standard'?: { jsonSchema?: Record<string, (to: Json) => Json> } })[
      '~standard'
    ]?.jsonSchema?.[schemaType];
    if (convert === undefined) return undefined;
    const { $schema: _dialect, $defs = {}, ...own } = convert({ target: 'draft-2020-12' });
    for (const [name, shape] of Object.entries($defs as Json)) {
      const text = JSON.stringify(shape);
      if ((shapes.get(name) ?? text) !== text)
        throw new Error(
          `The schema ${name} reads otherwise in an answer than in a request; give each its own name.`,
        );
      shapes.set(name, text);
    }
    return { schema: own, components: $defs };
  };
}

/** Problems have a media type of their own. */
function answerProblems({ responses }: Operation): void {
  const problem = responses['default'];
  const content = problem?.content?.['application/json'];
  if (problem !== undefined && content !== undefined)
    problem.content = { 'application/problem+json': content };
}

/** The document's own line in it: it is served beside the routes, not by one. */
const ownOperation = {
  operationId: 'openApi',
  summary: 'This document.',
  tags: ['Health'],
  responses: {
    '200': {
      description: 'Done.',
      content: { 'application/json': { schema: { type: 'object', required: ['openapi', 'info', 'paths'] } } },
    },
  },
} as OpenAPIObject['paths'][string]['get'];
