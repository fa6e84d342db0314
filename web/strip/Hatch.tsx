/** Patterns that every picture of the page refers to: the look of not knowing, and of what no gas explains. */
export function Hatch() {
  return (
    <svg className="patterns" width="0" height="0" aria-hidden="true">
      <defs>
        <pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path className="st-hatch" d="M0 0V7" />
        </pattern>
        <pattern id="unexplained" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="4" height="4" className="sp-unbg" />
          <path className="sp-unl" d="M0 0V4" />
        </pattern>
      </defs>
    </svg>
  );
}
