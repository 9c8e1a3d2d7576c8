import { displayProfile } from '../../../core/color/icc-write.ts'
import { bytesOf, onePage, type PdfText } from '../pdf-write.ts'
import { box, cmykGroup, deviceN, orange, spots, white } from './spaces.ts'

const [width, height] = [12, 8]

/** An image of `components`, each a ramp or wave of its own, 8 bits. */
const samples = (components: number): Uint8Array =>
  Uint8Array.from({ length: width * height * components }, (_, i) => {
    const [x, y] = [Math.floor(i / components) % width, Math.floor(i / components / width)]
    const ramps = [
      (255 * x) / (width - 1),
      (255 * y) / (height - 1),
      (x * 37 + y * 71) % 256,
      x ^ y ? 40 : 220,
    ]
    return Math.round(ramps[i % components]!)
  })

const image = (pdf: PdfText, space: string, data: Uint8Array, more = ''): string =>
  pdf.stream(
    `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /BitsPerComponent 8 /ColorSpace ${space} ${more}`,
    data,
  )

/** Images side by side, each on a box of the page. */
const placed = (images: readonly string[]) => ({
  resources: `/ColorSpace << ${spots} >> /XObject << ${images.map((one, i) => `/I${i} ${one}`).join(' ')} >>`,
  content: [
    `/H cs 0.4 scn ${box(0, 50, 180, 20)}`,
    ...images.map((_, i) => {
      const across = 180 / images.length
      return `q ${across - 8} 0 0 104 ${i * across + 4} 8 cm /I${i} Do Q`
    }),
  ].join('\n'),
})

/** Pages about images. */
export const picturePages = {
  'cmyk images': () =>
    onePage(pdf => ({
      ...placed([
        image(pdf, '/DeviceCMYK', samples(4)),
        image(pdf, '/DeviceCMYK', samples(4), '/Decode [1 0 0 0.5 0 1 0.2 0.8]'),
        image(pdf, '/DeviceGray', samples(1)),
      ]),
    })),

  'images of spot inks': () =>
    onePage(pdf =>
      placed([
        image(pdf, white, samples(1)),
        image(pdf, deviceN(pdf, ['Cyan', 'White', 'Comet#20orange']), samples(3)),
        image(pdf, orange, samples(1), '/Decode [1 0]'),
      ]),
    ),

  'indexed images': () =>
    onePage(pdf => {
      const table = 'ff000000 00ff0000 0000ff00 40404040 80c02010 00000000 c8640a32 000000ff'
      const whites = '00 20 40 60 80 a0 c0 ff'
      const index = samples(1).map(value => value >> 5)
      return placed([
        image(pdf, `[/Indexed /DeviceCMYK 7 <${table}>]`, index),
        image(pdf, `[/Indexed ${white} 7 <${whites}>]`, index),
        pdf.stream(
          `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /BitsPerComponent 4 /ColorSpace [/Indexed ${orange} 15 ${pdf.stream(
            '',
            Uint8Array.from({ length: 16 }, (_, i) => i * 17),
          )}]`,
          Uint8Array.from({ length: (width / 2) * height }, (_, i) => (i * 29) % 256),
        ),
      ])
    }),

  'images with profiles': () =>
    onePage(pdf => {
      const rgb = pdf.stream('/N 3 /Alternate /DeviceRGB', displayProfile('srgb'))
      return placed([
        image(pdf, `[/ICCBased ${rgb}]`, samples(3)),
        image(pdf, '/DeviceRGB', samples(3)),
        image(pdf, '[/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 127] >>]', samples(3)),
      ])
    }),

  'image masks': () =>
    onePage(pdf => {
      const stencil = pdf.stream(
        '/Type /XObject /Subtype /Image /Width 16 /Height 8 /BitsPerComponent 1 /ImageMask true',
        Uint8Array.from([
          0xf0, 0x0f, 0xf0, 0x0f, 0xcc, 0x33, 0xcc, 0x33, 0xaa, 0xaa, 0, 0xff, 0xff, 0, 0xf0, 0xf0,
        ]),
      )
      const cut = pdf.stream(
        '/Type /XObject /Subtype /Image /Width 4 /Height 4 /BitsPerComponent 1 /ImageMask true',
        Uint8Array.from([0x90, 0x60, 0x60, 0x90]),
      )
      return {
        resources: `/ColorSpace << ${spots} >> /XObject << /S ${stencil} /M ${image(pdf, '/DeviceCMYK', samples(4), `/Mask ${cut}`)} /K ${image(pdf, white, samples(1), '/Mask [100 180]')} >>`,
        content: [
          `0 0 0.3 0 k ${box(0, 0, 180, 60)}`,
          '/W cs 0.7 scn q 50 0 0 100 8 10 cm /S Do Q',
          'q 50 0 0 100 65 10 cm /M Do Q q 50 0 0 100 122 10 cm /K Do Q',
        ].join('\n'),
      }
    }),

  'soft masks of images': () =>
    onePage(pdf => {
      const soft = (more: string) => image(pdf, '/DeviceGray', samples(1), more)
      return {
        ...placed([
          image(pdf, '/DeviceCMYK', samples(4), `/SMask ${soft('')}`),
          image(pdf, white, samples(1), `/SMask ${soft('/Decode [1 0]')}`),
        ]),
        page: cmykGroup,
      }
    }),

  'packed images': () =>
    onePage(pdf => {
      const hex = (data: Uint8Array) =>
        `${Array.from(data, byte => byte.toString(16).padStart(2, '0')).join('')}>`
      const runs = Uint8Array.from([
        ...Array.from({ length: height }, (_, y) => [257 - width, y * 30]).flat(),
        128,
      ])
      return placed([
        pdf.stream(
          `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /BitsPerComponent 8 /ColorSpace ${white} /Filter /ASCIIHexDecode`,
          hex(samples(1)),
        ),
        pdf.stream(
          `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} /BitsPerComponent 8 /ColorSpace ${orange} /Filter [/ASCIIHexDecode /RunLengthDecode]`,
          hex(runs),
        ),
        pdf.stream(
          `/Type /XObject /Subtype /Image /Width ${width / 2} /Height ${height} /BitsPerComponent 16 /ColorSpace /DeviceGray`,
          samples(1),
        ),
      ])
    }),

  'jpeg of cmyk': () =>
    onePage(pdf => {
      const jpeg = Uint8Array.from(atob(photo.join('')), letter => letter.charCodeAt(0))
      const head =
        '/Type /XObject /Subtype /Image /Width 48 /Height 32 /BitsPerComponent 8 /ColorSpace /DeviceCMYK /Filter /DCTDecode'
      return placed([pdf.stream(`${head} /Decode [1 0 1 0 1 0 1 0]`, jpeg), pdf.stream(head, jpeg)])
    }),

  'inline images': () =>
    onePage(() => ({
      resources: `/ColorSpace << ${spots} >>`,
      content: [
        'q 80 0 0 100 5 10 cm BI /W 2 /H 2 /BPC 8 /CS /CMYK /F /AHx ID ff000000 00ff0000 0000ff00 000000ff> EI Q',
        `/O cs 0.6 scn q 80 0 0 100 95 10 cm BI /W 8 /H 4 /BPC 1 /IM true /D [1 0] ID ${String.fromCharCode(...bytesOf('\u00a5\u003c\u00c3\u005a'))} EI Q`,
      ].join('\n'),
    })),
}

/** 48 × 32 px, four inks, the polarity of most such files: 255 is no ink. Made from numbers, nobody's picture. */
export const photo: readonly string[] = [
  '/9j/7gAOQWRvYmUAZAAAAAAC/9sAQwADAgICAgIDAgICAwMDAwQGBAQEBAQIBgYFBgkICgoJCAkJCgwPDAoLDgsJCQ0RDQ4PEBAR',
  'EAoMEhMSEBMPEBAQ/9sAQwEDAwMEAwQIBAQIEAsJCxAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQEBAQ',
  'EBAQEBAQ/8AAFAgAIAAwBAERAAIRAQMRAQQRAP/EABoAAQEAAwEBAAAAAAAAAAAAAAAGBAUIAwf/xAApEAAABAQFBAMBAQAAAAAA',
  'AAAAAQIDBAUGoREXI1ORFBZRVBITITIz/8QAGgEBAQADAQEAAAAAAAAAAAAABgcECAkCA//EACARAAEEAwEAAwEAAAAAAAAAAAEA',
  'AgQFAxEhBgcxQWH/2gAOBAEAAhEDEQQAAD8A4llFEkgi0rDfmtg44rQSEKh3Rd+q47OjNpQqoOlktkWmXAypt3ihsPU1rrMu11Oz',
  'ozaUNiiREkv4IR/0/vG4QQHKjVM7eup2dGbSh7IkSlH+IGt3qPfOykgOVPqZ2tdTs6M2lDYQdMLcUWnYRmfe5Zjz1Uetsw0DqdnR',
  'm0oU8polS1JxZsPVfDySnglN4VyG/qdnRm0oYUNTSWyLSLgdIrb02OIwgOXGussS7XV1dlY365cDMTI8Pwm7CE+q+QAwOAcqTUzf',
  'rqZWN+uXA9mpApZ4fXYa4ej9u+Q4gOVPqp4GuplY365cDbwFJrcUWlYTTNY5Zr/tUOvtQ0DqZWN+uXArpNQylGnFmwQ09U+Q4EhM',
  'Yd2BrqZWN+uXAv5JQeHxM2LCz0FAGgEhJol7/Uysb9cuB8xTJPDdh9vV/IP2A5cmamb9dX2LqoHykZLFOqcMsGz4Gvl567JKeQHK',
  'm1dgAB1OqgfKRvZbR6nDLRsCOPLlmPT6Bbhuup1UD5SLWS0IajTizYPaKjdlIJCWxLzX6nVQPlIv5JQhJJJ/RYWqio24gCQksS83',
  '+p1UD5SLWW0elsi0rB4zLihsS2BblxHU6qB8pHPMLTKnD/zPgaI2npMst5AK5g1lkG66ufs2E79xSyqi1OGnRPgYMPDllv2U5hXI',
  'brqZsJ37i5klBY/HFmwqXn6AuIJCUxb3+pmwnfuL+TUMlBJ0bCz1FUyO0EhJod2TrqZsJ37iugKTQ2RaVghzWWKGz7TKutS4jqZs',
  'J37jbNSBKC/ECZ+j9uyO0gOVDqp5JHUzYTv3H//Z',
]
