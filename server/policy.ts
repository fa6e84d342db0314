/** Who may do what: one word per route, and a route without one fails at start. */
import type { Role } from '../shared/contract/words.ts';

/**
 * `open`: anyone who reaches the port. `gateway`: sends scans (gateways and admins). The others are the least role
 * that may; a gateway is none of them.
 */
export type Policy = 'open' | 'viewer' | 'operator' | 'engineer' | 'admin' | 'gateway';

const RANK = { viewer: 1, operator: 2, engineer: 3, admin: 4 } as const;

export const mayUse = (role: Role, policy: Policy): boolean => {
  if (policy === 'open') return true;
  if (policy === 'gateway') return role === 'gateway' || role === 'admin';
  return role !== 'gateway' && RANK[role] >= RANK[policy];
};

export const NEEDS: Record<Policy, string> = {
  open: 'Anyone may do this.',
  viewer: 'This needs the role viewer or above.',
  operator: 'This needs the role operator or above.',
  engineer: 'This needs the role engineer or above.',
  admin: 'This needs the role admin.',
  gateway: 'Only gateways and admins send scans.',
};
