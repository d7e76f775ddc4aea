/** The roles a person can hold, the same in every clinic of the network. */
export const roles = ['surgeon', 'coordinator', 'inventory', 'administrator', 'auditor'] as const;
export type Role = (typeof roles)[number];

/** Who can take a step: a person in a role, the maker (by a signed message) or the dispatch worker. */
export const actors = [...roles, 'maker', 'worker'] as const;
export type ActorKind = (typeof actors)[number];

const everyone = roles;
const clinical = ['surgeon', 'coordinator'] as const;

/**
 * What each role may do besides the steps of the lifecycles, which carry their own `by`.
 * The API enforces this table and the screens draw from it.
 */
export const permissions = {
  'case.read': everyone,
  'case.open': clinical,
  'case.identity': clinical,
  /** Handing a person what is held about them. */
  'case.export-subject': clinical,
  /** Not those who treat: who erases can't see what is erased. */
  'case.erase-identity': ['administrator'],
  'case.measure': clinical,
  'case.plan': clinical,
  /** Planning with what earlier eyes came out away from their plans: whoever answers for the eye decides that. */
  'plan.offset': ['surgeon'],
  'case.schedule': ['coordinator', 'surgeon'],
  'case.withdraw': clinical,
  'case.close': ['surgeon'],
  'case.implant': clinical,
  'case.exchange': clinical,
  'order.read': everyone,
  'arrival.receive': ['inventory', 'coordinator'],
  'lens.read': everyone,
  'lens.return': ['inventory', 'coordinator'],
  'lens.discard': ['inventory'],
  'lens.own': ['inventory', 'coordinator'],
  'lens.transfer': ['inventory', 'coordinator'],
  'lens.count': ['inventory', 'coordinator'],
  'return.read': everyone,
  'ledger.read': ['coordinator', 'inventory', 'administrator', 'auditor'],
  'maker.read': everyone,
  'maker.edit': ['administrator'],
  'maker.tell': ['coordinator', 'surgeon'],
  'visits.schedule': ['administrator'],
  /** The limits that eyes are judged by are set by who answers for eyes, by a signature. */
  'limit.set': ['surgeon'],
  /** Who reckons what a model should become doesn't put it into use; who answers for eyes does. */
  'model.propose': ['administrator'],
  'model.sign': ['surgeon'],
  'people.read': everyone,
  'people.manage': ['administrator'],
  'audit.read': ['administrator', 'auditor'],
} as const satisfies Record<string, readonly Role[]>;

export type Permission = keyof typeof permissions;

/** Whether a role may do a thing. */
export function may(role: Role, permission: Permission): boolean {
  return (permissions[permission] as readonly Role[]).includes(role);
}

/** Who has to sign in with a second factor where the installation asks for it: who signs, and who manages people. */
export const rolesWithSecondFactor: readonly Role[] = ['surgeon', 'administrator'];
