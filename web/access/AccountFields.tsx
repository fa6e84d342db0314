import { words } from '../strings/access.ts';

/** As the server asks for. */
export const LEAST_PASSWORD = 12;

interface Account {
  readonly name: string;
  readonly login: string;
  readonly password: string;
}

interface AccountFieldsProps {
  readonly account: Account;
  readonly set: (part: Partial<Account>) => void;
  readonly labels: { readonly name: string; readonly login: string; readonly password: string };
  /** Whoever types makes the account for themselves: their browser may fill in what it knows of them. */
  readonly own?: boolean;
}

/** Name, login and first password of an account that is being made. */
export function AccountFields({ account, set, labels, own = false }: AccountFieldsProps) {
  return (
    <>
      <label>
        {labels.name}
        <input
          value={account.name}
          required
          maxLength={120}
          autoComplete={own ? 'name' : 'off'}
          onChange={(event) => set({ name: event.target.value })}
        />
      </label>
      <label>
        {labels.login}
        <input
          value={account.login}
          required
          maxLength={64}
          pattern="[A-Za-z0-9][A-Za-z0-9._@\-]*"
          title={words.loginSigns}
          autoComplete={own ? 'username' : 'off'}
          autoCapitalize="none"
          spellCheck={false}
          onChange={(event) => set({ login: event.target.value })}
        />
      </label>
      <label>
        {labels.password}
        <input
          type="password"
          value={account.password}
          required
          minLength={LEAST_PASSWORD}
          maxLength={256}
          autoComplete="new-password"
          onChange={(event) => set({ password: event.target.value })}
        />
      </label>
    </>
  );
}
