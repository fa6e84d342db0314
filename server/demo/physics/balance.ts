/**
 * The gas balance of a chamber, V dP/dt = Q − S P, for each gas.
 *
 * While load Q and speed S stand still its exact solution is P(t) = Q/S + (P0 − Q/S) e^(−t S/V). V/S is a few seconds
 * at most here and loads move over minutes to days, so between steps the pressure is Q/S; a step is followed exactly.
 */
export interface Balance {
  readonly loadPaLitresPerSecond: number;
  readonly speedLitresPerSecond: number;
  readonly volumeLitres: number;
}

export const steadyPressurePa = (balance: Pick<Balance, 'loadPaLitresPerSecond' | 'speedLitresPerSecond'>): number =>
  balance.loadPaLitresPerSecond / balance.speedLitresPerSecond;

export function pressureAfterPa(balance: Balance, initialPa: number, seconds: number): number {
  const steady = steadyPressurePa(balance);
  const timeConstantSeconds = balance.volumeLitres / balance.speedLitresPerSecond;
  return steady + (initialPa - steady) * Math.exp(-seconds / timeConstantSeconds);
}
