/**
 * A failure in one line, with its own words. Only for one that met nothing of the user's: at the load of the program. Later the
 * words of a failure may repeat what stands in a roster.
 */
export function failureLine(failure: unknown): string {
  const words = failure instanceof Error ? `${failure.name}: ${failure.message}` : String(failure);
  return words.split('\n', 1).join('').trim();
}
