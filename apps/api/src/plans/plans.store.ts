import type { Finding } from '@lensferry/contracts';
import { DesignSheet } from '@lensferry/contracts';
import type { Work } from '../platform/work.js';

/** A version of a design with its maker. */
export interface DesignOnOffer {
  readonly id: string;
  readonly code: string;
  readonly name: string;
  readonly version: number;
  readonly sheet: DesignSheet;
  readonly maker: { id: string; code: string; name: string; currency: string };
}

/** The latest version of every design that is valid now. */
export async function designsOnOffer({ tx, now }: Work): Promise<DesignOnOffer[]> {
  const designs = await tx.design.findMany({
    include: {
      maker: true,
      versions: { where: { validFrom: { lte: now } }, orderBy: { version: 'desc' }, take: 1 },
    },
    orderBy: { code: 'asc' },
  });
  return designs.flatMap((design) =>
    design.versions.map((version) => ({
      id: version.id,
      code: design.code,
      name: design.name,
      version: version.version,
      sheet: DesignSheet.parse(version.sheet),
      maker: design.maker,
    })),
  );
}

/** The findings of an order's plan that are stops: going on over one asks for a written reason. */
export async function stopsOf({ tx }: Work, order: { planId: string }): Promise<Finding[]> {
  const plan = await tx.plan.findFirstOrThrow({ where: { id: order.planId } });
  const { findings } = plan.result as unknown as { findings: Finding[] };
  return findings.filter(({ level }) => level === 'stop');
}
