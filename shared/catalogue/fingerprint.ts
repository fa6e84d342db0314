/**
 * FNV-1a, 32 bit (IETF draft-eastlake-fnv: offset basis 0x811c9dc5, prime 0x01000193), over UTF-8, as eight hex
 * digits. It tells versions of the same text apart; it is no protection against anybody.
 */
export const fingerprint = (text: string): string => {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, '0');
};
