/** The folder with the built service, made if need be. Throws where nothing can be written. */
export function builtFolder(): Promise<string>;
/** A source with the threads that it starts taken from a folder of built ones; as an expression of JavaScript. */
export function withThreadsFrom(text: string, folder: string): string;
export function clearShelf(from?: string): void;
