/** How arrays of numbers lie in `bytea` columns: little-endian, NaN for what was not measured. */
import type { GasEstimate } from '../analysis/types.ts';

export const packFloat64 = (values: Float64Array): Buffer => {
  const out = Buffer.alloc(values.length * 8);
  for (let i = 0; i < values.length; i++) out.writeDoubleLE(values[i] as number, i * 8);
  return out;
};

export const unpackFloat64 = (bytes: Buffer): Float64Array => {
  const out = new Float64Array(bytes.length / 8);
  for (let i = 0; i < out.length; i++) out[i] = bytes.readDoubleLE(i * 8);
  return out;
};

/** Four float32 per gas (value, low, high, sigma; Pa) and one bit per gas for `detected`. */
export const packEstimates = (gases: readonly GasEstimate[]): { estimates: Buffer; detected: Buffer } => {
  const estimates = Buffer.alloc(gases.length * 16);
  const detected = Buffer.alloc(Math.ceil(gases.length / 8));
  gases.forEach((gas, i) => {
    [gas.valuePa, gas.lowPa, gas.highPa, gas.sigmaPa].forEach((x, k) => {
      estimates.writeFloatLE(x, i * 16 + k * 4);
    });
    if (gas.detected) detected[i >> 3] = (detected[i >> 3] ?? 0) | (1 << (i & 7));
  });
  return { estimates, detected };
};

export const unpackEstimates = (
  gasNames: readonly string[],
  estimates: Buffer | null,
  detected: Buffer | null,
): GasEstimate[] =>
  estimates === null
    ? []
    : gasNames.map((gas, i) => ({
        gas,
        valuePa: estimates.readFloatLE(i * 16),
        lowPa: estimates.readFloatLE(i * 16 + 4),
        highPa: estimates.readFloatLE(i * 16 + 8),
        sigmaPa: estimates.readFloatLE(i * 16 + 12),
        detected: (((detected?.[i >> 3] ?? 0) >> (i & 7)) & 1) === 1,
      }));
