import { memorySource } from '../../../../core/base/source.ts'

/** What a small file of one page has beside the usual; all in the syntax of PDF. */
export interface SmallPdf {
  readonly content?: string
  readonly resources?: string
  /** More entries of the page; a MediaBox of 720 x 360 units is there unless it has its own. */
  readonly page?: string
  readonly catalog?: string
  /** Further objects by their numbers, 10 and up; a stream by its dictionary and its data. */
  readonly objects?: Readonly<Record<number, string | readonly [dict: string, data: string | Uint8Array]>>
}

/** Writes a PDF byte by byte (latin letters), so that tests see nothing but what they say. */
export function smallPdf({ content = '', resources = '', page = '', catalog = '', objects = {} }: SmallPdf) {
  const box = page.includes('/MediaBox') ? '' : '/MediaBox [0 0 720 360]'
  const all: Record<number, string | readonly [string, string | Uint8Array]> = {
    1: `<< /Type /Catalog /Pages 2 0 R ${catalog} >>`,
    2: '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    3: `<< /Type /Page /Parent 2 0 R ${box} /Contents 4 0 R /Resources << ${resources} >> ${page} >>`,
    4: ['', content],
    ...objects,
  }
  const parts: number[] = []
  const write = (text: string) => {
    for (let at = 0; at < text.length; at++) parts.push(text.charCodeAt(at) & 255)
  }
  const places = new Map<number, number>()
  write('%PDF-1.7\n%\xE2\xE3\xCF\xD3\n')
  for (const [number, object] of Object.entries(all)) {
    places.set(Number(number), parts.length)
    write(`${number} 0 obj\n`)
    if (typeof object === 'string') write(object)
    else {
      const [dict, data] = object
      write(`<< /Length ${data.length} ${dict} >>\nstream\n`)
      if (typeof data === 'string') write(data)
      else for (const byte of data) parts.push(byte)
      write('\nendstream')
    }
    write('\nendobj\n')
  }
  const table = parts.length
  write('xref\n')
  for (const [number, place] of places) write(`${number} 1\n${String(place).padStart(10, '0')} 00000 n \n`)
  write(`trailer\n<< /Size ${Math.max(...places.keys()) + 1} /Root 1 0 R >>\nstartxref\n${table}\n%%EOF\n`)
  return Uint8Array.from(parts)
}

export const smallSource = (pdf: SmallPdf) => memorySource('small.pdf', smallPdf(pdf))
