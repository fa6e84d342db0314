import { usePreferences } from './preferences.ts';

/** The key that does the same, printed on its button; drawn by the style sheet, so that the button's name stays its word. */
export function Key({ name }: { readonly name: string }) {
  const { keys } = usePreferences();
  return keys ? <kbd data-key={name} /> : null;
}
