import { type ProcessingStep, writtenStep } from '../art/processing-steps.ts'
import { PDFArray, type PDFContext, PDFHexString, type PDFRef, PDFString } from '../base/pdf.ts'
import { nameOf } from './pdf-content.ts'

/** A layer of a PDF. */
export interface PlateLayer {
  readonly name: string
  readonly step: ProcessingStep | null
  readonly prints: boolean
  readonly kind: 'Artwork' | 'Technical'
}

/** The layers of a document, as they are made. */
export class LayerList {
  readonly #context: PDFContext
  /** What lies lowest first. */
  readonly #layers: { readonly ref: PDFRef; readonly layer: PlateLayer }[] = []

  constructor(context: PDFContext) {
    this.#context = context
  }

  /**
   * An optional-content group: ISO 32000-2, 8.11.2; its step: ISO 19593-1. What does not print says so (8.11.4.4).
   */
  add(layer: PlateLayer): PDFRef {
    const context = this.#context
    const { name, step, prints, kind } = layer
    const written = step && writtenStep(step)
    const ref = context.register(
      context.obj({
        Type: 'OCG',
        Name: PDFHexString.fromText(name),
        Usage: context.obj({
          CreatorInfo: context.obj({ Creator: PDFString.of('rakelight'), Subtype: kind }),
          Print: context.obj({ PrintState: prints ? 'ON' : 'OFF' }),
          View: context.obj({ ViewState: 'ON' }),
        }),
        ...(written
          ? {
              GTS_Metadata: context.obj({
                GTS_ProcStepsGroup: nameOf(written.group),
                ...(written.type === null ? {} : { GTS_ProcStepsType: nameOf(written.type) }),
              }),
            }
          : {}),
      }),
    )
    this.#layers.push({ ref, layer })
    return ref
  }

  /** ISO 32000-2, 8.11.4.2 and 8.11.4.3. */
  properties() {
    const context = this.#context
    const all = () => {
      const list = PDFArray.withContext(context)
      for (const { ref } of this.#layers.toReversed()) list.push(ref)
      return list
    }
    const list = context.obj({
      Name: PDFHexString.fromText('Plates'),
      BaseState: 'ON',
      Order: all(),
      ListMode: 'AllPages',
      RBGroups: context.obj([]),
      AS: context.obj([context.obj({ Event: 'Print', OCGs: all(), Category: context.obj(['Print']) })]),
    })
    return context.obj({ OCGs: all(), D: list })
  }
}
