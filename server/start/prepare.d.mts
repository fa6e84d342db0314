export function requireNode(): void;
export function withLock<T>(root: string, work: () => Promise<T>): Promise<T>;
export function missingPackages(root: string, options: { development: boolean }): string[];
export function installPackages(root: string, options: { development: boolean }): Promise<void>;
export function runVisibly(root: string, args: readonly string[], program?: string): Promise<void>;
export function pageIsStale(root: string): boolean;
