interface Drawing {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/** An SVG drawn as PNG; undefined where the browser cannot. */
async function pngOf({ svg, width, height }: Drawing): Promise<Blob | undefined> {
  const image = new Image(width, height);
  image.src = `data:image/svg+xml,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  canvas.getContext('2d')?.drawImage(image, 0, 0, width, height);
  return new Promise((resolve) => canvas.toBlob((blob) => resolve(blob ?? undefined), 'image/png'));
}

/** PNG as base64. */
export async function drawn(drawing: Drawing): Promise<string | undefined> {
  try {
    const blob = await pngOf(drawing);
    if (!blob) return undefined;
    const bytes = new Uint8Array(await blob.arrayBuffer());
    let text = '';
    for (const byte of bytes) text += String.fromCharCode(byte);
    return btoa(text);
  } catch {
    return undefined;
  }
}

/** Whether the picture came onto the clipboard: a browser may forbid it. */
export async function toClipboard(drawing: Drawing): Promise<boolean> {
  try {
    const blob = await pngOf(drawing);
    if (!blob) return false;
    await navigator.clipboard.write([new ClipboardItem({ 'image/png': blob })]);
    return true;
  } catch {
    return false;
  }
}
