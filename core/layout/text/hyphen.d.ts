declare module 'hyphen/*/index.js' {
  const language: { hyphenateSync(text: string, options?: { hyphenChar?: string; minWordLength?: number }): string };
  export default language;
}
