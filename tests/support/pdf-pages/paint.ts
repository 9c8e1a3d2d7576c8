import { onePage, type PdfText } from '../pdf-write.ts'
import { box, circle, deviceN, orange, spots, white } from './spaces.ts'

const ramp = (from: readonly number[], to: readonly number[], n = 1): string =>
  `<< /FunctionType 2 /Domain [0 1] /C0 [${from.join(' ')}] /C1 [${to.join(' ')}] /N ${n} >>`

/** Two ramps of one value that meet at 0.4. */
const stitched = `<< /FunctionType 3 /Domain [0 1] /Bounds [0.4] /Encode [0 1 1 0] /Functions [${ramp([0], [1])} ${ramp([0.2], [1])}] >>`

/** A page that paints shadings, each in its own clip. */
const shaded = (make: (pdf: PdfText) => readonly (readonly [clip: string, shading: string])[]) =>
  onePage(pdf => {
    const all = make(pdf)
    return {
      // The reference counts spot inks by the page's colour spaces, and not by those of meshes.
      resources: `/ColorSpace << ${spots} >> /Shading << ${all.map(([, shading], i) => `/S${i} ${shading}`).join(' ')} >>`,
      content: all.map(([clip], i) => `q ${clip} W n /S${i} sh Q`).join('\n'),
    }
  })

/** A mesh as numbers: flags in a byte, coordinates in two, colours in one. */
function packed(
  rows: readonly (readonly [flag: number | null, points: readonly number[], colours: readonly number[]])[],
): Uint8Array {
  const bytes: number[] = []
  for (const [flag, points, colours] of rows) {
    if (flag !== null) bytes.push(flag)
    for (const value of points) {
      const whole = Math.round((value / 180) * 65535)
      bytes.push(whole >> 8, whole & 255)
    }
    for (const value of colours) bytes.push(Math.round(value * 255))
  }
  return Uint8Array.from(bytes)
}

const meshHead = (type: number, space: string, components: number): string =>
  `/ShadingType ${type} /ColorSpace ${space} /BitsPerCoordinate 16 /BitsPerComponent 8 /Decode [0 180 0 180${' 0 1'.repeat(components)}]`

/** A straight patch: the twelve points of its edge, counter-clockwise from the lower left. */
function square(x: number, y: number, width: number, height: number, bulge: number): readonly number[] {
  const at = (u: number, v: number) => [x + u * width, y + v * height]
  return [
    ...at(0, 0),
    ...at(-bulge, 1 / 3),
    ...at(bulge, 2 / 3),
    ...at(0, 1),
    ...at(1 / 3, 1),
    ...at(2 / 3, 1),
    ...at(1, 1),
    ...at(1 + bulge, 2 / 3),
    ...at(1 - bulge, 1 / 3),
    ...at(1, 0),
    ...at(2 / 3, 0),
    ...at(1 / 3, 0),
  ]
}

/** Pages about paint that changes from place to place. */
export const paintPages = {
  'axial shadings': () =>
    shaded(pdf => [
      [
        '5 65 80 50 re',
        `<< /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [10 65 80 115] /Function ${ramp([1, 0, 0, 0.1], [0, 0.8, 0.3, 0])} /Extend [true true] >>`,
      ],
      [
        '95 65 80 50 re',
        `<< /ShadingType 2 /ColorSpace ${white} /Coords [105 65 165 65] /Function ${stitched} /Extend [false true] >>`,
      ],
      [
        '5 5 80 50 re',
        `<< /ShadingType 2 /ColorSpace ${deviceN(pdf, ['Cyan', 'Holo#20foil'])} /Coords [5 5 85 5] /Domain [0 1] /Function [${ramp([0], [1])} ${ramp([0.9], [0.1], 2)}] >>`,
      ],
      [
        '95 5 80 50 re',
        `<< /ShadingType 2 /ColorSpace ${orange} /Coords [95 5 95 55] /Function << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1.5 >> /BBox [100 10 160 50] /Extend [true true] >>`,
      ],
    ]),

  'radial shadings': () =>
    shaded(() => [
      [
        '5 5 80 110 re',
        `<< /ShadingType 3 /ColorSpace /DeviceCMYK /Coords [45 60 0 45 60 38] /Function ${ramp([0, 0.9, 0.2, 0], [0.5, 0, 0, 0])} >>`,
      ],
      [
        '95 60 80 55 re',
        `<< /ShadingType 3 /ColorSpace ${white} /Coords [115 85 5 145 88 20] /Function ${ramp([1], [0.1])} /Extend [true true] >>`,
      ],
      [
        '95 5 80 50 re',
        `<< /ShadingType 3 /ColorSpace ${orange} /Coords [130 30 20 138 30 4] /Function ${ramp([0.1], [0.9])} /Extend [false false] >>`,
      ],
    ]),

  'shading of a function': () =>
    shaded(pdf => [
      [
        '10 10 160 100 re',
        `<< /ShadingType 1 /ColorSpace ${deviceN(pdf, ['Magenta', 'White'])} /Domain [0 1 0 1] /Matrix [150 20 -10 90 15 5] /Function ${pdf.stream('/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1]', '{ 2 copy mul 3 1 roll add 2 div }')} >>`,
      ],
    ]),

  'sampled function': () =>
    shaded(pdf => [
      [
        '10 10 160 100 re',
        `<< /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [10 0 170 0] /Function ${pdf.stream('/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1 0 1] /Size [5] /BitsPerSample 8', Uint8Array.from([0, 40, 200, 0, 90, 10, 150, 20, 255, 80, 90, 0, 120, 200, 30, 60, 10, 255, 0, 0]))} >>`,
      ],
    ]),

  'triangle meshes': () =>
    shaded(pdf => [
      [
        '0 0 90 120 re',
        pdf.stream(
          `${meshHead(4, '/DeviceCMYK', 4)} /BitsPerFlag 8`,
          packed([
            [0, [10, 10], [1, 0, 0, 0]],
            [0, [80, 15], [0, 1, 0, 0]],
            [0, [45, 60], [0, 0, 1, 0]],
            [1, [80, 110], [0.2, 0.2, 0, 0.5]],
            [2, [10, 105], [0.9, 0.5, 0, 0]],
          ]),
        ),
      ],
      [
        '90 0 90 120 re',
        pdf.stream(
          `${meshHead(5, white, 1)} /VerticesPerRow 3`,
          packed([
            [null, [95, 15], [0.1]],
            [null, [130, 10], [0.9]],
            [null, [170, 20], [0.3]],
            [null, [100, 60], [0.7]],
            [null, [135, 65], [0.2]],
            [null, [172, 55], [1]],
            [null, [95, 110], [0.4]],
            [null, [130, 105], [0.8]],
            [null, [170, 112], [0]],
          ]),
        ),
      ],
    ]),

  'patch meshes': () =>
    shaded(pdf => [
      [
        '0 0 90 120 re',
        pdf.stream(
          `${meshHead(6, '/DeviceCMYK', 4)} /BitsPerFlag 8`,
          packed([[0, square(18, 20, 52, 80, 0.2), [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0.3, 0.3, 0, 0.3]]]),
        ),
      ],
      [
        '90 0 90 120 re',
        pdf.stream(
          `${meshHead(7, orange, 1)} /BitsPerFlag 8`,
          packed([
            [
              0,
              [...square(108, 20, 52, 80, -0.15), 120, 50, 125, 75, 145, 70, 142, 45],
              [0.1, 0.9, 0.4, 0.7],
            ],
          ]),
        ),
      ],
    ]),

  'coloured tilings': () =>
    onePage(pdf => {
      const tile = (space: string, content: string, more: string) =>
        pdf.stream(
          `/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /Resources << /ColorSpace << ${spots} >> >> ${space} ${more}`,
          content,
        )
      const dots = tile(
        '/BBox [0 0 20 20] /XStep 20 /YStep 20',
        `/W cs 0.9 scn ${circle(6, 6, 5)} f 0.5 0 0 0 k ${box(11, 11, 8, 8)}`,
        '/Matrix [1 0 0 1 3 2]',
      )
      const turned = tile(
        '/BBox [0 0 16 16] /XStep 22 /YStep 18',
        `0 0.7 0.3 0 k ${box(0, 0, 16, 16)} /H cs 1 scn ${box(4, 4, 8, 8)}`,
        '/Matrix [0.866 0.5 -0.5 0.866 0 0]',
      )
      return {
        resources: `/Pattern << /P ${dots} /Q ${turned} >>`,
        content: [
          `0 0 0.4 0 k ${box(0, 50, 180, 20)}`,
          `/Pattern cs /P scn ${box(5, 5, 80, 110)} /Q scn ${circle(132, 60, 42)} f`,
        ].join('\n'),
      }
    }),

  'uncoloured tilings': () =>
    onePage(pdf => {
      const tile = pdf.stream(
        '/Type /Pattern /PatternType 1 /PaintType 2 /TilingType 2 /BBox [0 0 14 14] /XStep 14 /YStep 14 /Resources << >>',
        `${circle(7, 7, 5)} f`,
      )
      return {
        resources: `/ColorSpace << /PW [/Pattern ${white}] /PC [/Pattern /DeviceCMYK] >> /Pattern << /P ${tile} >>`,
        content: [
          `/PW cs 0.8 /P scn ${box(5, 5, 80, 110)}`,
          `/PC cs 0.6 0.2 0 0.1 /P scn ${box(95, 5, 80, 110)}`,
        ].join('\n'),
      }
    }),

  'shadings as patterns': () =>
    onePage(() => ({
      resources: `/Pattern << /A << /PatternType 2 /Matrix [1 0 0 1 10 0] /Shading << /ShadingType 2 /ColorSpace ${white} /Coords [0 0 150 0] /Function ${ramp([0.1], [1])} >> >> /R << /PatternType 2 /Shading << /ShadingType 3 /ColorSpace /DeviceCMYK /Coords [90 35 2 90 35 60] /Function ${ramp([0.9, 0, 0, 0], [0, 0.5, 0.5, 0])} /Extend [true true] >> >> >>`,
      content: `/Pattern cs /A scn ${box(5, 65, 170, 50)} /R scn ${circle(50, 30, 25)} f\n/Pattern CS /A SCN 12 w 95 10 m 170 55 l S`,
    })),
}
