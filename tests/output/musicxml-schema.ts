/** The W3C schema of MusicXML 4.0, read by libxml2, and its list of sounds; tests/standards/README.md says whose they are. */
import { readFileSync } from 'node:fs';
import { XmlBufferInputProvider, XmlDocument, XsdValidator, xmlRegisterInputProvider } from 'libxml2-wasm';

const SCHEMA = new URL('../standards/musicxml-4.0/', import.meta.url);

/** Ids of the standard's instrument sounds. */
export const soundIds = (): ReadonlySet<string> =>
  new Set([...readFileSync(new URL('sounds.xml', SCHEMA), 'utf8').matchAll(/<sound id="([^"]+)"/g)].map(([, id]) => id!));

/** Faults of a text against the schema; none when it is valid. */
export function openSchema(): (xml: string) => string[] {
  const file = (name: string) => readFileSync(new URL(name, SCHEMA));
  xmlRegisterInputProvider(
    new XmlBufferInputProvider({
      'http://www.musicxml.org/xsd/xml.xsd': file('xml-namespace.xsd'),
      'http://www.musicxml.org/xsd/xlink.xsd': file('xlink.xsd'),
    }),
  );
  const schema = XmlDocument.fromBuffer(file('musicxml.xsd'));
  const validator = XsdValidator.fromDoc(schema);
  schema.dispose();
  return (xml) => {
    const document = XmlDocument.fromString(xml);
    try {
      validator.validate(document);
      return [];
    } catch (failure) {
      return [(failure as Error).message];
    } finally {
      document.dispose();
    }
  };
}
