import { proofLabel } from '../proof/names.ts'
import type { PlateLabel } from './plate-wish.ts'

/** What a file of plates is, for readers of metadata. Source: ISO 16684-1 (XMP); ISO 32000-2, section 14.3.2. */
export function plateXmp({ jobName, program, madeAt }: PlateLabel): string {
  const date = escaped(`${madeAt.slice(0, 19)}Z`)
  const tool = escaped(`rakelight ${program}`)
  return `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">${escaped(`${jobName}: plates`)}</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">${escaped(proofLabel)}</rdf:li></rdf:Alt></dc:description>
<xmp:CreatorTool>${tool}</xmp:CreatorTool>
<xmp:CreateDate>${date}</xmp:CreateDate>
<xmp:ModifyDate>${date}</xmp:ModifyDate>
<pdf:Producer>${tool}</pdf:Producer>
<pdf:Trapped>False</pdf:Trapped>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`
}

const escaped = (text: string): string =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: XML has no way to write them
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '')
    .replace(/[&<>"]/g, sign => `&#${sign.charCodeAt(0)};`)
