import { words } from '../strings/frame.ts';
import { INNER_PAGES, PAGES } from './pages.ts';

export interface KeyLine {
  /** As they are printed; two spaces part keys that belong together. */
  readonly signs: string;
  /** As `useKeys` binds them. */
  readonly binds: readonly string[];
  readonly does: string;
}

export interface KeyGroup {
  readonly title: string;
  readonly lines: readonly KeyLine[];
}

/** Every key that acts somewhere; a test holds this list against what the pages bind. */
export const keyGroups = (): readonly KeyGroup[] => {
  const { keyDoes: does, pageNames } = words;
  return [
    {
      title: does.everywhere,
      lines: [
        ...[...PAGES, ...INNER_PAGES].map(({ href, key }) => ({
          signs: `g  ${key}`,
          binds: [`g ${key}`],
          does: does.go(pageNames[href]),
        })),
        { signs: '/', binds: ['/'], does: does.find },
        { signs: 'u', binds: ['u'], does: does.link },
        { signs: '?', binds: ['?'], does: does.help },
        { signs: 'Esc', binds: ['escape'], does: does.escape },
      ],
    },
    {
      title: does.lists,
      lines: [
        { signs: 'j  k  ↓  ↑', binds: ['j', 'k', 'down', 'up'], does: does.rows },
        { signs: 'Enter', binds: ['enter'], does: does.open },
        { signs: 'Shift Enter', binds: ['shift+enter'], does: does.sign },
      ],
    },
    {
      title: does.alert,
      lines: [
        { signs: 'a', binds: ['a'], does: does.acknowledge },
        { signs: 's', binds: ['s'], does: does.shelve },
        { signs: 't', binds: ['t'], does: does.ticket },
        { signs: 'c', binds: ['c'], does: does.before },
      ],
    },
    {
      title: does.pictures,
      lines: [
        { signs: '+  −  ←  →  0', binds: ['+', '=', '-', 'left', 'right', '0'], does: does.zoom },
        { signs: 'l', binds: ['l'], does: does.scale },
        { signs: ',  .', binds: [',', '.'], does: does.scans },
        { signs: 'n', binds: ['n'], does: does.note },
        { signs: 'd', binds: ['d'], does: does.table },
        { signs: 'x', binds: ['x'], does: does.residuals },
        { signs: 'p', binds: ['p'], does: does.plan },
        { signs: '1  2  3', binds: ['1', '2', '3'], does: does.comparisons },
      ],
    },
  ];
};
