import { Controller, Inject, Param, Query, StreamableFile } from '@nestjs/common';
import { Id, PlainDate } from '@lensferry/contracts';
import { z } from 'zod';
import { exportCase, fhirMediaType } from '../fhir/export-case.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import {
  printDeviceStatement,
  printImplantCard,
  printLensLabel,
  printOrderSheet,
  printPatientSheet,
  printPickList,
  printReturnNote,
  printSubjectSheet,
  printTheatreSheet,
  printToMaker,
  type Printed,
} from './print.js';

const mediaType = 'application/pdf';
const PickListQuery = z
  .strictObject({ from: PlainDate.optional().describe('The first of seven days; today when left out.') })
  .meta({ id: 'PickListQuery' });
const PatientSheetQuery = z
  .strictObject({ language: z.enum(['en', 'de']).default('en').describe('The language of the sheet.') })
  .meta({ id: 'PatientSheetQuery' });
const FhirQuery = z
  .strictObject({
    identity: z
      .enum(['true', 'false'])
      .optional()
      .describe('Whether the patient is named; only with the right to see identities, and recorded.'),
  })
  .meta({ id: 'FhirQuery' });

/** Papers: made when they are asked for, from what is on record at that moment. */
@Controller('api')
export class DocumentsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  private async file(me: Actor, print: (work: Work) => Promise<Printed>): Promise<StreamableFile> {
    const { pdf, fileName } = await this.database.work(me, print);
    return new StreamableFile(pdf, {
      type: mediaType,
      disposition: `inline; filename="${fileName}"`,
      length: pdf.length,
    });
  }

  @Route('GET', 'cases/:id/subject-export.pdf', {
    summary: 'What is held about the patient, on paper, for that person; it is recorded.',
    access: 'case.export-subject',
    mediaType,
  })
  subjectSheet(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printSubjectSheet(work, id));
  }

  @Route('GET', 'orders/:id/order-sheet.pdf', {
    summary: 'The order on paper, as its maker gets it.',
    access: 'order.read',
    mediaType,
  })
  orderSheet(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printOrderSheet(work, id));
  }

  @Route('GET', 'orders/:id/to-maker.pdf', {
    summary: 'What is asked of the maker now, on paper: to cancel, to change, or the order itself.',
    access: 'order.read',
    mediaType,
  })
  toMaker(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printToMaker(work, id));
  }

  @Route('GET', 'orders/:id/device-statement.pdf', {
    summary: 'A form for the maker’s statement on a custom-made device.',
    access: 'order.read',
    mediaType,
  })
  statement(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printDeviceStatement(work, id));
  }

  @Route('GET', 'cases/:id/theatre-sheet.pdf', {
    summary: 'The sheet for the day of the operation.',
    access: 'case.read',
    mediaType,
  })
  theatreSheet(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printTheatreSheet(work, id));
  }

  @Route('GET', 'cases/:id/implant-card.pdf', {
    summary: 'The card that the patient carries; the look at the identity is recorded.',
    access: 'case.identity',
    mediaType,
  })
  implantCard(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printImplantCard(work, id));
  }

  @Route('GET', 'cases/:id/patient-sheet.pdf', {
    summary: 'One page in plain words: what this eye may expect, and what nobody promises; by code name.',
    access: 'case.read',
    query: PatientSheetQuery,
    mediaType,
  })
  patientSheet(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Query({ schema: PatientSheetQuery }) { language }: z.infer<typeof PatientSheetQuery>,
  ): Promise<StreamableFile> {
    return this.file(me, (work) => printPatientSheet(work, id, language));
  }

  @Route('GET', 'cases/:id/fhir', {
    summary: 'The case as a FHIR R4 bundle, under the code name unless the identity is asked for.',
    access: 'case.read',
    query: FhirQuery,
    mediaType: fhirMediaType,
  })
  async fhir(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Query({ schema: FhirQuery }) { identity }: z.infer<typeof FhirQuery>,
  ): Promise<StreamableFile> {
    const { bundle, fileName } = await this.database.work(me, (work) =>
      exportCase(work, id, identity === 'true'),
    );
    const bytes = Buffer.from(JSON.stringify(bundle));
    const disposition = `attachment; filename="${fileName}"`;
    return new StreamableFile(bytes, { type: fhirMediaType, disposition, length: bytes.length });
  }

  @Route('GET', 'returns/:id/note.pdf', {
    summary: 'The note in a parcel that goes back.',
    access: 'return.read',
    mediaType,
  })
  returnNote(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printReturnNote(work, id));
  }

  @Route('GET', 'lenses/:id/label.pdf', {
    summary: 'A shelf label with a code to scan.',
    access: 'lens.read',
    mediaType,
  })
  label(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StreamableFile> {
    return this.file(me, (work) => printLensLabel(work, id));
  }

  @Route('GET', 'theatre/pick-list.pdf', {
    summary: 'The lenses to fetch from the shelf for a week of theatre.',
    access: 'lens.read',
    query: PickListQuery,
    mediaType,
  })
  pickList(
    @Me() me: Actor,
    @Query({ schema: PickListQuery }) { from }: z.infer<typeof PickListQuery>,
  ): Promise<StreamableFile> {
    return this.file(me, (work) => printPickList(work, from));
  }
}
