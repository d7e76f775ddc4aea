import { Body, Controller, Headers, Inject, Param, Req } from '@nestjs/common';
import { ApiBody, ApiHeader } from '@nestjs/swagger';
import { EditMaker, Id, MakerLeadTimes, MakerMessage, MakerSummary } from '@lensferry/contracts';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { hearMaker } from '../dispatch/hear-maker.js';
import { makerLeadTimes } from '../leadtimes/maker-lead-times.queries.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { editMaker } from './edit-maker.js';
import { listMakers, showMaker } from './makers.queries.js';

const Makers = z.object({ items: z.array(MakerSummary) }).meta({ id: 'Makers' });
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

  @Route('GET', 'makers/:id/lead-times', {
    summary: 'How a maker delivers, keeps its word and is forecast.',
    access: 'maker.read',
    answer: MakerLeadTimes,
  })
  leadTimes(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<MakerLeadTimes> {
    return this.database.work(me, (work) => makerLeadTimes(work, id));
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
