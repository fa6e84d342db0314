/** The words of the contract as a reader sees them; they stand with all other words of the page. */
export * from '../strings/terms.ts';
