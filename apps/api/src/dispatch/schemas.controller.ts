import { Controller, Param } from '@nestjs/common';
import { makerSchema, makerSchemaNames, type MakerSchemaName } from '@lensferry/contracts';
import { z } from 'zod';
import { Route } from '../platform/route.js';

const Name = z.enum(makerSchemaNames);
const Names = z.object({ names: z.array(Name) }).meta({ id: 'MakerSchemaNames' });
const Schema = z.record(z.string(), z.unknown()).meta({ id: 'MakerSchema' });

/** The published JSON Schemas of what passes between Lensferry and makers; a maker needs no account to read them. */
@Controller('api/maker-schemas')
export class SchemasController {
  @Route('GET', '', {
    summary: 'The documents and messages that have a published schema.',
    access: 'anybody',
    answer: Names,
  })
  list(): z.infer<typeof Names> {
    return { names: [...makerSchemaNames] };
  }

  @Route('GET', ':name', {
    summary: 'The JSON Schema of one document or message.',
    access: 'anybody',
    answer: Schema,
  })
  show(@Param('name', { schema: Name }) name: MakerSchemaName): Record<string, unknown> {
    return makerSchema(name);
  }
}
