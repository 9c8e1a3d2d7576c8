/** Writes and reads PDF objects. Everything of the package that core uses comes through here. */
export {
  PDFArray,
  PDFContext,
  PDFDict,
  PDFDocument,
  PDFFont,
  PDFHexString,
  PDFName,
  PDFNumber,
  PDFObject,
  PDFRawStream,
  PDFRef,
  PDFString,
  StandardFonts,
} from '@cantoo/pdf-lib'
