import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { fleetQuestion } from '../api/questions.ts';

/** The gases that the fleet document names for each chamber, beyond what any chamber may hold. */
export function useDeclaredGases(): ReadonlyMap<string, readonly string[]> {
  const { data: fleet } = useQuery(fleetQuestion);
  return useMemo(() => new Map(fleet?.chambers.map(({ id, gases }) => [id, gases ?? []]) ?? []), [fleet]);
}
