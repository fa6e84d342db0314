// Runs before the first paint, from a file of its own because the page allows no inline scripts.
try {
  const theme = JSON.parse(localStorage.getItem('ullage.preferences') || '{}').theme;
  if (theme === 'light' || theme === 'dark') document.documentElement.dataset.theme = theme;
} catch {
  // Storage may be forbidden or hold nonsense: then the page follows the system.
}
