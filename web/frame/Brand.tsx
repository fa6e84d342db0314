/** A line made of marks, and one that has left it. */
export function Brand() {
  return (
    <svg className="brand" width="32" height="22" viewBox="0 0 32 22" aria-hidden="true">
      <rect x="11" y="13" width="10" height="9" fill="currentColor" opacity=".2" />
      <path d="M0 17.5h9.4M22.6 17.5H32M11.3 5h9.4" stroke="currentColor" strokeWidth="4" />
    </svg>
  );
}

/** A closed gate: the sign of a caution. */
export function Gate() {
  return (
    <svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
      <path d="M6.4 1V19M13.6 1V19" stroke="currentColor" strokeWidth="3.6" />
      <path d="M0 10H4.6M15.4 10H20" stroke="currentColor" strokeWidth="1.6" />
    </svg>
  );
}
