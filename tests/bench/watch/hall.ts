/** The hall of a site, which all of its chambers share: days, shifts of the air conditioning, weather. */
import { seededRandom } from '../../support/instrument.ts';

export const HOUR = 3600;
export const DAY = 86_400;
const GRID_SECONDS = 600;
const LONGEST_DAYS = 90;

/** Degrees Celsius at so many seconds after the start. */
export type Hall = (seconds: number) => number;

const halls = new Map<number, Hall>();

export function hallOf(site: number): Hall {
  const made = halls.get(site);
  if (made) return made;
  const random = seededRandom(site * 65_537 + 11);
  const daily = random.between(0.2, 1.8);
  const phase = random.between(0, 24);
  const sigma = random.between(0.2, 0.8);
  const keep = Math.exp(-GRID_SECONDS / (3 * DAY));
  const grid = new Float64Array((LONGEST_DAYS * DAY) / GRID_SECONDS + 2);
  let weather = sigma * random.normal();
  let setting = 0;
  for (let i = 0; i < grid.length; i++) {
    const hours = (i * GRID_SECONDS) / HOUR;
    weather = keep * weather + sigma * Math.sqrt(1 - keep * keep) * random.normal();
    // Somebody turns the setting about every twenty days.
    if (random.uniform() < GRID_SECONDS / (20 * DAY)) setting = random.between(-1, 1);
    const weekend = Math.floor(hours / 24) % 7 >= 5 ? -0.3 : 0;
    grid[i] = 22 + daily * Math.sin((2 * Math.PI * (hours - phase)) / 24) + weather + setting + weekend;
  }
  const hall: Hall = (seconds) => {
    const at = Math.min(grid.length - 2, Math.max(0, seconds / GRID_SECONDS));
    const below = Math.floor(at);
    return grid[below]! + (at - below) * (grid[below + 1]! - grid[below]!);
  };
  if (halls.size > 200) halls.clear();
  halls.set(site, hall);
  return hall;
}
