import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { PRESSURE_UNITS } from '../../shared/contract/words.ts';
import { signOut } from '../api/moves.ts';
import { type Preferences, prefer, usePreferences } from './preferences.ts';
import { Sheet } from './Sheet.tsx';
import { useSession } from './site.ts';

/** The person's name opens what the person may set for themselves. */
export function Person() {
  const [open, setOpen] = useState(false);
  const { who } = useSession();
  if (!who) return null;
  return (
    <>
      <button type="button" className="quiet person" aria-haspopup="dialog" onClick={() => setOpen(true)}>
        {who.name}
      </button>
      {open ? (
        <Sheet title={who.name} close={() => setOpen(false)}>
          <p className="note">
            Signed in as <span className="code">{who.login}</span>, {who.role}.
          </p>
          <PreferenceFields />
          <SignOutButton />
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
        Unit of pressure
        <select
          value={preferences.unit ?? ''}
          onChange={(e) => prefer({ unit: (e.target.value || null) as Preferences['unit'] })}
        >
          <option value="">as the site ({site.unit})</option>
          {PRESSURE_UNITS.map((unit) => (
            <option key={unit}>{unit}</option>
          ))}
        </select>
      </label>
      <label>
        Theme
        <select value={preferences.theme} onChange={(e) => prefer({ theme: e.target.value as Preferences['theme'] })}>
          <option value="system">as the system</option>
          <option value="light">light</option>
          <option value="dark">dark</option>
        </select>
      </label>
      <label>
        Times
        <select value={preferences.zone} onChange={(e) => prefer({ zone: e.target.value as Preferences['zone'] })}>
          <option value="site">of the site ({site.timeZone})</option>
          <option value="own">of this browser</option>
        </select>
      </label>
      <label className="check">
        <input type="checkbox" checked={preferences.keys} onChange={(e) => prefer({ keys: e.target.checked })} />
        Single-letter keys
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
    <div className="does">
      <button type="button" onClick={() => void leave()}>
        Sign out
      </button>
    </div>
  );
}
