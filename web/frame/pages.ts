/** Pages of the masthead, with the second letter of their key after `g`. */
export const PAGES = [
  { href: '/', name: 'round', key: 'r' },
  { href: '/alerts', name: 'alerts', key: 'a' },
  { href: '/compare', name: 'compare', key: 'c' },
  { href: '/measurement', name: 'measurement', key: 'm' },
  { href: '/fleet', name: 'fleet', key: 'f' },
  { href: '/about', name: 'about', key: 'i' },
] as const;

/** Pages that are reached from another page of the masthead, with their keys. */
export const INNER_PAGES = [
  { href: '/performance', key: 'p' },
  { href: '/rationalisation', key: 'w' },
] as const;

/** A chamber is reached from the round and belongs to it; how well alerts do and why they are raised, to the alerts. */
const WITHIN: Readonly<Record<string, readonly string[]>> = {
  '/': ['/chambers', '/rounds', '/handover'],
  '/alerts': ['/alerts', '/performance', '/rationalisation'],
};
export const isWithin = (path: string, page: string): boolean =>
  path === page || (WITHIN[page] ?? [page]).some((start) => path.startsWith(start));
