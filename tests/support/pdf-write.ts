/** A PDF written object by object as text, by nothing that the reader is made of. Source: ISO 32000-2, section 7. */
export class PdfText {
  readonly #bodies: Uint8Array[] = []

  /** Adds an object; returns how others refer to it: `7 0 R`. */
  add(body: string): string {
    this.#bodies.push(bytesOf(body))
    return `${this.#bodies.length} 0 R`
  }

  /** @param entries  of the stream's dictionary, without Length */
  stream(entries: string, data: string | Uint8Array): string {
    const bytes = typeof data === 'string' ? bytesOf(data) : data
    this.#bodies.push(
      joined([bytesOf(`<< ${entries} /Length ${bytes.length} >>\nstream\n`), bytes, bytesOf('\nendstream')]),
    )
    return `${this.#bodies.length} 0 R`
  }

  /** @param root  the catalog, as others refer to it */
  finish(root: string): Uint8Array<ArrayBuffer> {
    const parts: Uint8Array[] = [bytesOf('%PDF-1.7\n%\u00e2\u00e3\u00cf\u00d3\n')]
    let at = parts[0]!.length
    const places: number[] = []
    for (const [i, body] of this.#bodies.entries()) {
      const whole = joined([bytesOf(`${i + 1} 0 obj\n`), body, bytesOf('\nendobj\n')])
      places.push(at)
      parts.push(whole)
      at += whole.length
    }
    const count = places.length + 1
    const rows = places.map(place => `${String(place).padStart(10, '0')} 00000 n \n`).join('')
    parts.push(
      bytesOf(
        `xref\n0 ${count}\n0000000000 65535 f \n${rows}trailer\n<< /Size ${count} /Root ${root} >>\nstartxref\n${at}\n%%EOF\n`,
      ),
    )
    return joined(parts)
  }
}

/** What a page is made of; entries are written as they stand in their dictionaries. */
export interface PageText {
  readonly content: string
  /** Of Resources. */
  readonly resources?: string
  /** Of the page: boxes, Rotate, Group. */
  readonly page?: string
  /** Of the catalog: OCProperties, OutputIntents. */
  readonly catalog?: string
}

/** Size of a page that says no other, points: 180 × 120, or 63.5 × 42.333 mm. */
export const pagePoints = [180, 120] as const

/** A document of one page. */
export function onePage(make: (pdf: PdfText) => PageText): Uint8Array<ArrayBuffer> {
  const pdf = new PdfText()
  const { content, resources = '', page = '', catalog = '' } = make(pdf)
  const stream = pdf.stream('', content)
  const media = page.includes('/MediaBox') ? '' : `/MediaBox [0 0 ${pagePoints.join(' ')}]`
  // The page names the list of pages, which comes right behind it.
  const next = Number(stream.split(' ')[0]) + 2
  const leaf = pdf.add(
    `<< /Type /Page /Parent ${next} 0 R ${media} ${page} /Resources << ${resources} >> /Contents ${stream} >>`,
  )
  const list = pdf.add(`<< /Type /Pages /Kids [${leaf}] /Count 1 >>`)
  return pdf.finish(pdf.add(`<< /Type /Catalog /Pages ${list} ${catalog} >>`))
}

/** Text whose characters are bytes. */
export const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, letter => letter.charCodeAt(0))

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}
