import { type Path, pathStep } from '../core/art/path.ts'
import { heightMm, widthMm } from './page.ts'
import { type Drawn, drawnLayers } from './vectors.ts'

/** Layers of the drawing that lies over the TIFF: what is no ink, and where the foil's gratings are drawn. */
const wanted = ['Holo lines', 'Holo lens rings', 'Holo star rays', 'Legend', 'Dieline'] as const

/** The drawn layers of the demo's carton front as SVG at true size: a unit is a millimetre, a group is a layer. */
export function makeSvg(): string {
  const drawn = drawnLayers()
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${widthMm} ${heightMm}">`,
    '  <title>Halden Observatory Supply, EP12 front panel</title>',
    ...wanted.flatMap(name => [
      `  <g id="${name.toLowerCase().replaceAll(' ', '-')}" fill="#000" fill-rule="evenodd" stroke-linecap="round" stroke-linejoin="miter">`,
      `    <title>${name}</title>`,
      ...drawn[name]!.shapes.map(shape => `    ${element(shape)}`),
      '  </g>',
    ]),
    '</svg>',
    '',
  ].join('\n')
}

const element = (shape: Drawn): string =>
  shape.kind === 'fill'
    ? `<path d="${data(shape.path)}"/>`
    : `<path d="${data(shape.path)}" fill="none" stroke="#000" stroke-width="${shape.penMm}"/>`

/** Y runs down in SVG; places to 0.0001 mm. */
function data({ steps, points }: Path): string {
  const letters = { [pathStep.move]: 'M', [pathStep.line]: 'L', [pathStep.curve]: 'C', [pathStep.close]: 'Z' }
  let [text, at] = ['', 0]
  for (const step of steps) {
    const count = step === pathStep.close ? 0 : step === pathStep.curve ? 6 : 2
    const numbers = Array.from(points.subarray(at, at + count), (value, i) =>
      Number((i % 2 === 0 ? value : heightMm - value).toFixed(4)),
    )
    text += letters[step as keyof typeof letters] + numbers.join(' ')
    at += count
  }
  return text
}
