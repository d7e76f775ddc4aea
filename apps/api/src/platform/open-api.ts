import type { INestApplication } from '@nestjs/common';
import { DocumentBuilder, SwaggerModule, type OpenAPIObject } from '@nestjs/swagger';
import { ownHeader, sessionCookie } from './session-guard.js';

/** The OpenAPI document, made from the routes themselves. */
export function openApiOf(app: INestApplication): OpenAPIObject {
  const config = new DocumentBuilder()
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
  return SwaggerModule.createDocument(app, config);
}
