/** What a person typed as a number: a decimal comma is one, nonsense is null. */
export function typedNumber(text: string): number | null {
  const clean = text.trim().replace(',', '.').replace('×10^', 'e');
  if (clean === '') return null;
  const value = Number(clean);
  return Number.isFinite(value) ? value : null;
}

/** Zero and less are no pressure, no gain and no sensitivity. */
export const typedPositive = (text: string): number | null => {
  const value = typedNumber(text);
  return value !== null && value > 0 ? value : null;
};
