/** Libraries that come without types, as far as the benchmark and the tests use them. */
declare module 'svg-to-pdfkit' {
  import type PDFDocument from 'pdfkit';
  export default function svgToPdf(
    document: InstanceType<typeof PDFDocument>,
    svg: unknown,
    x: number,
    y: number,
    options: {
      readonly assumePt?: boolean;
      readonly fontCallback?: (family: string) => string;
      readonly warningCallback?: (text: string) => void;
    },
  ): void;
}
declare module 'jsdom' {
  export class JSDOM {
    constructor(html: string);
    readonly window: Window & typeof globalThis;
  }
}
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<unknown>;
}
declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: unknown);
    setOptions(options: Readonly<Record<string, unknown>>): void;
    loadData(data: string): boolean;
    getPageCount(): number;
    renderToSVG(page: number): string;
    renderToTimemap(options?: Readonly<Record<string, unknown>>): unknown;
    getMEI(options?: Readonly<Record<string, unknown>>): string;
    destroy(): void;
  }
}
