/** Where pages lie in an open book. */

/** A book opens on a right-hand page, so its second and third pages face each other. */
export const evenPage = (page: number): number => (page <= 0 ? -1 : page % 2 === 0 ? page - 1 : page);
