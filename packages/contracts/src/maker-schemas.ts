import { z } from 'zod';
import {
  CancellationDocument,
  ChangeDocument,
  InquiryDocument,
  MakerMessage,
  MakerReceipt,
  OrderDocument,
  OrderedLens,
  ReturnDocument,
} from './maker-documents.js';

/** What passes between Lensferry and a maker, by the name of its published schema. */
export const makerExchanges = {
  'lens-order': OrderDocument,
  'order-change': ChangeDocument,
  'order-cancellation': CancellationDocument,
  'order-inquiry': InquiryDocument,
  'lens-return': ReturnDocument,
  'maker-receipt': MakerReceipt,
  'maker-message': MakerMessage,
} as const satisfies Record<string, z.ZodType>;
export type MakerSchemaName = keyof typeof makerExchanges;

/** The names of the published schemas, documents first, then what a maker answers. */
export const makerSchemaNames = Object.keys(makerExchanges) as [MakerSchemaName, ...MakerSchemaName[]];

/** An axis stands with a cylinder and only with one: the same rule that the documents are checked by. */
const axisWithCylinder = [
  { properties: { cylinderD: { const: 0 }, axisDeg: { type: 'null' } } },
  { properties: { cylinderD: { exclusiveMaximum: 0 }, axisDeg: { type: 'integer' } } },
];

/** The eye in words is the one that the case code ends in. */
const eyeOfCase = [
  { properties: { eye: { const: 'RIGHT' }, caseCode: { pattern: 'R$' } } },
  { properties: { eye: { const: 'LEFT' }, caseCode: { pattern: 'L$' } } },
];

/**
 * The JSON Schema (2020-12) of one document or message, made from the very schema that checks it.
 * @example makerSchema('lens-order')['title'] // 'lens-order'
 */
export function makerSchema(name: MakerSchemaName): Record<string, unknown> {
  const schema: z.ZodType = makerExchanges[name];
  const written = z.toJSONSchema(schema, {
    target: 'draft-2020-12',
    override: ({ zodSchema, jsonSchema }) => {
      if ((zodSchema as unknown) === OrderedLens) jsonSchema.oneOf = axisWithCylinder as never;
      if ((zodSchema as unknown) === OrderDocument || (zodSchema as unknown) === ChangeDocument)
        jsonSchema.oneOf = eyeOfCase as never;
      // Validators divide binary numbers, and 12.3 / 0.01 is no whole number to them.
      if (jsonSchema.multipleOf === 0.01) {
        delete jsonSchema.multipleOf;
        jsonSchema.description = 'At most two decimals.';
      }
    },
  }) as Record<string, unknown>;
  const { $schema, ...rest } = written;
  return { $schema, $id: `urn:lensferry:${name}:1`, title: name, ...rest };
}
