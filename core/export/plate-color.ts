import { PDFArray, type PDFContext, PDFRawStream, type PDFRef } from '../base/pdf.ts'
import type { Alternate } from './ink-plate.ts'
import { nameOf, reals } from './pdf-content.ts'
import { processNames } from './plate-names.ts'

/** An ink of a PDF. */
export interface PdfInk {
  readonly name: string
  readonly alternate: Alternate
  /** What stands for it where several inks are mixed, 0..1 each. */
  readonly cmyk: readonly [number, number, number, number]
  /** 0 lets all through what lies below, 1 nothing; null where nobody says. */
  readonly opacity: number | null
}

/** D50, the white that L*a*b* of this project counts from. Source: ICC.1:2022, section 7.2.16. */
const whitePoint = [0.9642, 1, 0.8249]

/** One ink as a colour space of its own. Source: ISO 32000-2, section 8.6.6.4; the tint transform is linear (7.10.3). */
export function separationSpace(context: PDFContext, { name, alternate }: PdfInk): PDFRef {
  const [space, none] =
    alternate.space === 'CMYK'
      ? [context.obj('DeviceCMYK'), [0, 0, 0, 0]]
      : [
          context.obj(['Lab', context.obj({ WhitePoint: whitePoint, Range: [-128, 127, -128, 127] })]),
          [100, 0, 0],
        ]
  const tint = context.obj({
    FunctionType: 2,
    Domain: [0, 1],
    C0: none,
    C1: [...alternate.values],
    N: 1,
  })
  return context.register(context.obj(['Separation', nameOf(name), space, tint]))
}

/**
 * All inks of a page as one colour space, for what is printed in each of them. Says how opaque they are and in which
 * order they are laid down. Source: ISO 32000-2, section 8.6.6.5.
 * @param separations the same inks as spaces of their own
 */
export function allInksSpace(
  context: PDFContext,
  inks: readonly PdfInk[],
  separations: readonly PDFRef[],
): PDFRef {
  const names = PDFArray.withContext(context)
  const colorants = context.obj({})
  let process = false
  for (const [i, { name }] of inks.entries()) {
    names.push(nameOf(name))
    if (processNames.some(one => one === name)) process = true
    else colorants.set(nameOf(name), separations[i]!)
  }
  const attributes = context.obj({
    Subtype: 'NChannel',
    Colorants: colorants,
    ...(process ? { Process: context.obj({ ColorSpace: 'DeviceCMYK', Components: [...processNames] }) } : {}),
    MixingHints: mixingHints(context, inks),
  })
  return context.register(
    context.obj(['DeviceN', names, 'DeviceCMYK', tintTransform(context, inks), attributes]),
  )
}

/**
 * How opaque inks are, and their order: first laid down first. What is not said is a transparent ink.
 * Source: ISO 32000-2, section 8.6.6.5, mixing hints: PrintingOrder has to stand beside Solidities.
 */
export function mixingHints(context: PDFContext, inks: readonly PdfInk[]) {
  const solidities = context.obj({ Default: 0 })
  const order = PDFArray.withContext(context)
  for (const { name, opacity } of inks) {
    if (opacity !== null) solidities.set(nameOf(name), context.obj(Math.round(opacity * 1e4) / 1e4))
    order.push(nameOf(name))
  }
  return context.obj({ Solidities: solidities, PrintingOrder: order })
}

/**
 * Inks on one another, as plain filters: what a component lets through is the product of what each ink lets through.
 * A program of PDF (7.10.5): tints lie on the stack, the last on top; four products lie above them and each tint in turn
 * is brought up to darken them.
 */
function tintTransform(context: PDFContext, inks: readonly PdfInk[]): PDFRef {
  const steps = ['1 1 1 1']
  for (const { cmyk } of inks.toReversed()) {
    steps.push('5 -1 roll')
    for (const [at, part] of cmyk.entries())
      steps.push(
        `${5 - at} -1 roll 1 index ${reals(part)} mul 1 exch sub mul`,
        ...(at < 3 ? [`${5 - at} 1 roll`] : ['exch pop']),
      )
  }
  for (let at = 0; at < 4; at++) steps.push('1 exch sub 4 1 roll')
  return context.register(
    PDFRawStream.of(
      context.obj({
        FunctionType: 4,
        Domain: inks.flatMap(() => [0, 1]),
        Range: [0, 1, 0, 1, 0, 1, 0, 1],
      }),
      new TextEncoder().encode(`{ ${steps.join(' ')} }`),
    ),
  )
}
