import { deflateSync } from 'node:zlib'
import { PDFDocument } from '../../core/base/pdf.ts'
import { smallPdf } from '../core/art/pdf/small-pdf.ts'
import { tiffBytes } from './tiff-bytes.ts'

/** Files that somebody may hand over and that are not in order, by name; written byte by byte. */

const spot = (name: string) =>
  `[/Separation /${name} /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 0 0] /N 1 >>]`

async function locked(): Promise<Uint8Array> {
  const document = await PDFDocument.create()
  document.addPage([200, 100])
  document.encrypt({ userPassword: 'comet', ownerPassword: 'tail' })
  return document.save()
}

/** Begins as a page that is laid out for the web, and ends after half of what it says. */
function cut(): Uint8Array {
  const whole = smallPdf({ content: '0 0 0 1 k 0 0 72 72 re f' })
  const text = Buffer.from(whole).toString('latin1')
  const [head, ...rest] = text.split('\n')
  const linear = `${head}\n9 0 obj\n<< /Linearized 1 /L ${2 * whole.length} >>\nendobj\n${rest.join('\n')}`
  return Uint8Array.from(Buffer.from(linear.slice(0, whole.length / 2), 'latin1'))
}

function manyInks(): Uint8Array {
  const names = Array.from({ length: 400 }, (_, at) => `Ink${at}`)
  return smallPdf({
    content: names.map(name => `/${name} cs 1 scn 0 0 1 1 re f`).join('\n'),
    resources: `/ColorSpace << ${names.map(name => `/${name} ${spot(name)}`).join('\n')} >>`,
  })
}

const allAndNone = () =>
  smallPdf({
    content: '/A cs 1 scn 0 0 72 72 re f /N cs 1 scn 72 0 72 72 re f /S cs 1 scn 144 0 72 72 re f',
    resources: `/ColorSpace << /A ${spot('All')} /N ${spot('None')} /S ${spot('Gold')} >>`,
  })

const recursive = () =>
  smallPdf({
    content: '0 0 0 1 k 0 0 72 72 re f /F Do',
    resources: '/XObject << /F 10 0 R >>',
    objects: {
      10: [
        '/Type /XObject /Subtype /Form /BBox [0 0 720 360] /Resources << /XObject << /F 10 0 R >> >>',
        '1 0 0 0 k 9 9 9 9 re f /F Do',
      ],
    },
  })

/** 14 m. */
const wide = () => smallPdf({ page: '/MediaBox [0 0 39685 200]', content: '0 0 0 1 k 0 0 720 72 re f' })

const noArea = () => smallPdf({ page: '/MediaBox [0 0 0 0]', content: '0 0 0 1 k 0 0 72 72 re f' })

const rgbWithout = () => smallPdf({ content: '1 0 0 rg 0 0 72 72 re f' })

const linked = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="60mm" height="40mm" viewBox="0 0 60 40">
  <g id="White"><rect x="5" y="5" width="20" height="10"/></g>
  <image x="30" y="5" width="20" height="20" xlink:href="http://127.0.0.1:9/stars.png"/>
  <image x="30" y="25" width="5" height="5" href="../stars.png"/>
</svg>`

const plain = { width: 8, height: 8, samples: 4, bits: 8, photometric: 5, value: () => 128 } as const

/** Says that its strip begins behind the end of the file. */
const lyingStrips = () => tiffBytes([{ ...plain, fields: [[273, 4, [9_000_000]]] }])
/** Says that its strip has far more bytes than there are. */
const longStrips = () => tiffBytes([{ ...plain, fields: [[279, 4, [9_000_000]]] }])

const text = (words: string) => new TextEncoder().encode(words)

/** The chunks of a PNG that says to be one size and holds nothing. */
function emptyPng(): Uint8Array {
  const chunk = (kind: string, data: Uint8Array) => {
    const out = Buffer.alloc(data.length + 12)
    out.writeUInt32BE(data.length)
    out.write(kind, 4, 'latin1')
    Buffer.from(data).copy(out, 8)
    return out
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(64, 0)
  head.writeUInt32BE(64, 4)
  head.set([8, 2, 0, 0, 0], 8)
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.alloc(4))),
  ])
}

export async function badArt(): Promise<Readonly<Record<string, Uint8Array>>> {
  return {
    'locked.pdf': await locked(),
    'cut.pdf': cut(),
    'many-inks.pdf': manyInks(),
    'all-none.pdf': allAndNone(),
    'recursive.pdf': recursive(),
    'wide.pdf': wide(),
    'no-area.pdf': noArea(),
    'rgb.pdf': rgbWithout(),
    'linked.svg': text(linked),
    'no-size.svg': text(
      '<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0"><rect width="5" height="5"/></svg>',
    ),
    'half.svg': text(linked.slice(0, 300)),
    'lying.tif': lyingStrips(),
    'long.tif': longStrips(),
    'cut.tif': tiffBytes([plain]).slice(0, 200),
    'empty.png': emptyPng(),
    'cut.jpg': Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46, 0, 1]),
    'cut.psd': text('8BPS\u0000\u0001'),
    'notes.txt': text('Halden Observatory Supply, notes'),
    'nothing.pdf': new Uint8Array(0),
  }
}
