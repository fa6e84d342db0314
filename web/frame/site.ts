import { useSuspenseQuery } from '@tanstack/react-query';
import type { Session } from '../../shared/contract/access.ts';
import type { Role } from '../../shared/contract/words.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { sessionQuestion } from '../api/questions.ts';
import { knownZone } from '../notation/time.ts';
import { usePreferences } from './preferences.ts';

/** Who is asking and where. Used below the point where the session is known. */
export const useSession = (): Session => useSuspenseQuery(sessionQuestion).data;

export function useUnit(): PressureUnit {
  const { unit } = usePreferences();
  const { site } = useSession();
  return unit ?? site.unit;
}

export function useZone(): string {
  const { zone } = usePreferences();
  const { site } = useSession();
  return zone === 'own' ? Intl.DateTimeFormat().resolvedOptions().timeZone : knownZone(site.timeZone);
}

const RANK: Readonly<Record<Role, number>> = { gateway: 0, viewer: 1, operator: 2, engineer: 3, admin: 4 };

/** May the person do what `role` may? */
export function useMay(role: Role): boolean {
  const { who } = useSession();
  return who !== null && RANK[who.role] >= RANK[role];
}
