/** Metadata of a PDF file as XMP (ISO 16684-1): who made what and when, and of an archive file which part of its standard it keeps. */
import type { Document } from '../../layout/page/page.js';
import { escapeXml } from '../xml.js';

export type MetadataSpec = {
  readonly info: Document['info'];
  readonly creator: string;
  readonly producer: string;
  /** Of making and of the last change. */
  readonly date: Date;
  /** PDF/A-1b. */
  readonly archive: boolean;
};

/** Inside `rdf:Description`. The blanks in these texts are PDFKit's: files keep the bytes that they had when it wrote them. */
const about = (names: string, inside: string): string => `
        <rdf:Description rdf:about="" ${names}>${inside}
        </rdf:Description>
        
`;

const ARCHIVE = `
        <rdf:Description xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" rdf:about="">
            <pdfaid:part>1</pdfaid:part>
            <pdfaid:conformance>B</pdfaid:conformance>
        </rdf:Description>
        
`;

/** One text in its container, as the Dublin Core has it; nothing for an empty one. */
function container(name: string, kind: 'Alt' | 'Seq', text: string): string {
  if (text === '') return '';
  const language = kind === 'Alt' ? ' xml:lang="x-default"' : '';
  return `
                <dc:${name}>
                    <rdf:${kind}>
                        <rdf:li${language}>${escapeXml(text)}</rdf:li>
                    </rdf:${kind}>
                </dc:${name}>
                
`;
}

function dublinCore({ title, author, subject }: Document['info']): string {
  const texts = container('title', 'Alt', title) + container('creator', 'Seq', author) + container('description', 'Alt', subject);
  if (texts === '') return '';
  return `
            <rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">
            
${texts}
            </rdf:Description>
            
`;
}

/** To the second, in UTC. */
const time = (date: Date): string => `${date.toISOString().slice(0, 19)}Z`;

export function xmpMetadata({ info, creator, producer, date, archive }: MetadataSpec): string {
  const keywords = info.keywords === '' ? '' : `\n            <pdf:Keywords>${escapeXml(info.keywords)}</pdf:Keywords>`;
  return [
    `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
            <x:xmpmeta xmlns:x="adobe:ns:meta/">
                <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
        `,
    archive ? ARCHIVE : '',
    about(
      'xmlns:xmp="http://ns.adobe.com/xap/1.0/"',
      `
            <xmp:CreateDate>${time(date)}</xmp:CreateDate>
            <xmp:CreatorTool>${escapeXml(creator)}</xmp:CreatorTool>`,
    ),
    dublinCore(info),
    about(
      'xmlns:pdf="http://ns.adobe.com/pdf/1.3/"',
      `
            <pdf:Producer>${escapeXml(producer)}</pdf:Producer>${keywords}`,
    ),
    `<rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:dc="http://purl.org/dc/elements/1.1/">
      <xmp:ModifyDate>${time(date)}</xmp:ModifyDate>
      <dc:language><rdf:Bag><rdf:li>${escapeXml(info.language)}</rdf:li></rdf:Bag></dc:language>
    </rdf:Description>
`,
    `
                </rdf:RDF>
            </x:xmpmeta>
        <?xpacket end="w"?>`,
  ].join('');
}
