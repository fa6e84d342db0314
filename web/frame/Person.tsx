import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { PRESSURE_UNITS, THEMES } from '../../shared/contract/words.ts';
import { signOut } from '../api/moves.ts';
import { words } from '../strings/frame.ts';
import { Rich } from '../strings/Rich.tsx';
import { CopyLink } from './CopyLink.tsx';
import { type Preferences, prefer, usePreferences } from './preferences.ts';
import { Sheet } from './Sheet.tsx';
import { useSession } from './site.ts';

/** The person's name opens what the person may set for themselves. */
export function Person() {
  const [open, setOpen] = useState(false);
  const { who } = useSession();
  if (!who) return null;
  const isPerson = who.kind === 'person';
  return (
    <>
      <button type="button" className="quiet person" aria-haspopup="dialog" onClick={() => setOpen(true)}>
        {who.name}
      </button>
      {open ? (
        <Sheet title={who.name} close={() => setOpen(false)}>
          <p className="note">
            <Rich
              text={isPerson ? words.signedInAs(who.role) : words.displayOf(who.role)}
              parts={{ login: () => <span className="code">{who.login}</span> }}
            />
          </p>
          <PreferenceFields />
          <p className="note">{isPerson ? words.keptForYou : words.keptHere}</p>
          <div className="does">
            <CopyLink />
            <SignOutButton />
          </div>
        </Sheet>
      ) : null}
    </>
  );
}

function PreferenceFields() {
  const preferences = usePreferences();
  const { site } = useSession();
  return (
    <div className="fields">
      <label>
        {words.unit}
        <select
          value={preferences.unit ?? ''}
          onChange={(e) => prefer({ unit: (e.target.value || null) as Preferences['unit'] })}
        >
          <option value="">{words.asTheSite(site.unit)}</option>
          {PRESSURE_UNITS.map((unit) => (
            <option key={unit}>{unit}</option>
          ))}
        </select>
      </label>
      <label>
        {words.theme}
        <select value={preferences.theme} onChange={(e) => prefer({ theme: e.target.value as Preferences['theme'] })}>
          {THEMES.map((theme) => (
            <option key={theme} value={theme}>
              {words.themes[theme]}
            </option>
          ))}
        </select>
      </label>
      <label>
        {words.times}
        <select value={preferences.zone} onChange={(e) => prefer({ zone: e.target.value as Preferences['zone'] })}>
          <option value="site">{words.zoneOfSite(site.timeZone)}</option>
          <option value="own">{words.zoneOwn}</option>
        </select>
      </label>
      <label className="check">
        <input type="checkbox" checked={preferences.keys} onChange={(e) => prefer({ keys: e.target.checked })} />
        {words.letterKeys}
      </label>
    </div>
  );
}

function SignOutButton() {
  const client = useQueryClient();
  const leave = async () => {
    await signOut().catch(() => undefined);
    client.clear();
    window.location.assign('/sign-in');
  };
  return (
    <button type="button" onClick={() => void leave()}>
      {words.signOut}
    </button>
  );
}
