import { Body, Controller, Header, Headers, Inject, Param, Query, Req } from '@nestjs/common';
import { ApiBody, ApiHeader } from '@nestjs/swagger';
import {
  AddDesign,
  AddMaker,
  EditMaker,
  Id,
  ImportSheet,
  MakerLeadTimes,
  MakerMessage,
  MakerSummary,
  NewSecret,
  PreviewSheet,
  ReachMaker,
  RenewSecret,
  SheetPreview,
} from '@lensferry/contracts';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { hearMaker } from '../dispatch/hear-maker.js';
import { makerLeadTimes } from '../leadtimes/maker-lead-times.queries.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { addDesign, newDesignFile } from './add-design.js';
import { addMaker, reachMaker, renewSecret } from './add-maker.js';
import { editMaker } from './edit-maker.js';
import { exportSheet, importSheet, previewSheet } from './import-sheet.js';
import { listMakers, showMaker } from './makers.queries.js';

const Makers = z.object({ items: z.array(MakerSummary) }).meta({ id: 'Makers' });
const Code = z.string().max(40);
const NewCode = z
  .strictObject({
    code: z
      .string()
      .regex(/^[A-Z][A-Z0-9-]{1,19}$/)
      .default('NEW-DESIGN'),
  })
  .meta({ id: 'NewDesignCode' });
const Heard = z.object({ applied: z.boolean() }).meta({ id: 'Heard' });

@Controller('api')
export class MakersController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', 'makers', {
    summary: 'Makers, what they make and how they keep their word.',
    access: 'maker.read',
    answer: Makers,
  })
  async list(@Me() me: Actor): Promise<z.infer<typeof Makers>> {
    return { items: await this.database.work(me, (work) => listMakers(work)) };
  }

  @Route('GET', 'makers/:id', { summary: 'One maker.', access: 'maker.read', answer: MakerSummary })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<MakerSummary> {
    return this.database.work(me, (work) => showMaker(work, id));
  }

  @Route('POST', 'makers/:id/edit', {
    summary: 'Change what is agreed with a maker.',
    access: 'maker.edit',
    answer: MakerSummary,
  })
  async edit(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: EditMaker }) input: EditMaker,
  ): Promise<MakerSummary> {
    await this.database.work(me, (work) => editMaker(work, id, input));
    return this.database.work(me, (work) => showMaker(work, id));
  }

  @Route('POST', 'makers', { summary: 'Add a maker.', access: 'maker.edit', answer: MakerSummary })
  async add(@Me() me: Actor, @Body({ schema: AddMaker }) input: AddMaker): Promise<MakerSummary> {
    const id = await this.database.work(me, (work) => addMaker(work, input));
    return this.database.work(me, (work) => showMaker(work, id));
  }

  @Route('POST', 'makers/:id/reach', {
    summary: 'Change how a maker is reached.',
    access: 'maker.edit',
    answer: MakerSummary,
  })
  async reach(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReachMaker }) input: ReachMaker,
  ): Promise<MakerSummary> {
    await this.database.work(me, (work) => reachMaker(work, id, input));
    return this.database.work(me, (work) => showMaker(work, id));
  }

  @Route('POST', 'makers/:id/secret', {
    summary: 'Make a new signing secret for a maker; told in this answer and never again.',
    access: 'maker.edit',
    answer: NewSecret,
  })
  @Header('cache-control', 'no-store')
  secret(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: RenewSecret }) { version }: RenewSecret,
  ): Promise<NewSecret> {
    return this.database.work(me, (work) => renewSecret(work, id, version));
  }

  @Route('GET', 'makers/:id/new-design.csv', {
    summary: 'The file to fill in for a design that is not there yet.',
    access: 'maker.edit',
    mediaType: 'text/csv',
    query: NewCode,
  })
  @Header('content-type', 'text/csv; charset=utf-8; header=present')
  @Header('content-disposition', 'attachment; filename="new-design.csv"')
  @Header('cache-control', 'no-store')
  newDesign(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Query({ schema: NewCode }) { code }: z.infer<typeof NewCode>,
  ): Promise<string> {
    return this.database.work(me, (work) => newDesignFile(work, id, code));
  }

  @Route('POST', 'makers/:id/designs', {
    summary: 'Add a design with its first sheet.',
    access: 'maker.edit',
    answer: MakerSummary,
  })
  async addDesign(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: AddDesign }) input: AddDesign,
  ): Promise<MakerSummary> {
    await this.database.work(me, (work) => addDesign(work, id, input));
    return this.database.work(me, (work) => showMaker(work, id));
  }

  @Route('GET', 'makers/:id/lead-times', {
    summary: 'How a maker delivers, keeps its word and is forecast.',
    access: 'maker.read',
    answer: MakerLeadTimes,
  })
  leadTimes(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<MakerLeadTimes> {
    return this.database.work(me, (work) => makerLeadTimes(work, id));
  }

  @Route('GET', 'makers/:id/designs/:code/sheet.csv', {
    summary: 'The newest sheet of a design as a file to edit.',
    access: 'maker.read',
    mediaType: 'text/csv',
  })
  @Header('content-type', 'text/csv; charset=utf-8; header=present')
  @Header('content-disposition', 'attachment; filename="design-sheet.csv"')
  @Header('cache-control', 'no-store')
  sheet(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Param('code', { schema: Code }) code: string,
  ): Promise<string> {
    return this.database.work(me, (work) => exportSheet(work, id, code));
  }

  @Route('POST', 'makers/:id/designs/:code/sheet-preview', {
    summary: 'What a file would change in a design, or everything that is wrong with it; nothing is kept.',
    access: 'maker.edit',
    answer: SheetPreview,
  })
  preview(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Param('code', { schema: Code }) code: string,
    @Body({ schema: PreviewSheet }) { file }: PreviewSheet,
  ): Promise<SheetPreview> {
    return this.database.work(me, (work) => previewSheet(work, id, code, file));
  }

  @Route('POST', 'makers/:id/designs/:code/sheet', {
    summary: 'Make a new version of a design from a file, valid from a day on.',
    access: 'maker.edit',
    answer: MakerSummary,
  })
  async importSheet(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Param('code', { schema: Code }) code: string,
    @Body({ schema: ImportSheet }) input: ImportSheet,
  ): Promise<MakerSummary> {
    await this.database.work(me, (work) => importSheet(work, id, code, input));
    return this.database.work(me, (work) => showMaker(work, id));
  }

  /** The signature covers the bytes as they came, so the body is read raw and checked before it is parsed. */
  @Route('POST', 'maker-messages/:code', {
    summary: 'A maker’s signed message (Standard Webhooks).',
    access: 'anybody',
    answer: Heard,
  })
  @ApiBody({ standardSchema: MakerMessage } as never)
  @ApiHeader({ name: 'webhook-id', required: true })
  @ApiHeader({ name: 'webhook-timestamp', required: true })
  @ApiHeader({ name: 'webhook-signature', required: true })
  hear(
    @Param('code', { schema: z.string().max(40) }) code: string,
    @Headers() headers: Record<string, string>,
    @Req() request: FastifyRequest & { rawBody?: Buffer },
  ): Promise<{ applied: boolean }> {
    return hearMaker(this.database, code, { body: request.rawBody?.toString('utf8') ?? '', headers });
  }
}
