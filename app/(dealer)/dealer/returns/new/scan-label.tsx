import { Camera } from "lucide-react";
import { type ChangeEvent, useEffect, useState } from "react";

interface CodeReader {
  detect(picture: ImageBitmap): Promise<readonly { readonly rawValue: string }[]>;
}

type CodeReaderMaker = new (options: { formats: string[] }) => CodeReader;

const formats = ["code_128", "data_matrix", "qr_code"];

/**
 * A photo of the label, read on the device, where the browser can (Shape Detection API). Taking a photo needs no
 * permission prompt; where nothing can read it, the field above is all there is.
 */
export function ScanLabel({ onScanned }: { onScanned: (text: string) => void }) {
  const [maker, setMaker] = useState<CodeReaderMaker | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => setMaker(() => codeReaderMaker()), []);
  if (maker === null) return null;

  async function read(event: ChangeEvent<HTMLInputElement>) {
    const [photo] = event.target.files ?? [];
    event.target.value = "";
    if (photo === undefined || maker === null) return;
    setTrouble("Reading the photo…");
    try {
      const [code] = await new maker({ formats }).detect(await createImageBitmap(photo));
      if (code === undefined)
        return setTrouble("No code was found in the photo. Go closer, avoid glare, or type the serial.");
      setTrouble(null);
      onScanned(code.rawValue);
    } catch (error) {
      console.warn("The photo could not be read", error);
      setTrouble("The photo could not be read here. Type the serial instead.");
    }
  }

  return (
    <div>
      <label className="inline-flex min-h-11 cursor-pointer items-center gap-2 rounded border-2 border-edge bg-raised px-4 py-2 font-semibold focus-within:outline-3 focus-within:outline-offset-2 focus-within:outline-accent hover:border-ink hover:bg-sunk">
        <Camera aria-hidden size={20} />
        Photograph the code on the label
        <input type="file" accept="image/*" capture="environment" onChange={read} className="sr-only" />
      </label>
      <p role="status" className="mt-1">
        {trouble}
      </p>
    </div>
  );
}

/** The browser's reader of bar codes, which TypeScript's list of browser interfaces does not have yet. */
function codeReaderMaker(): CodeReaderMaker | null {
  const found: unknown = Reflect.get(window, "BarcodeDetector");
  return isCodeReaderMaker(found) ? found : null;
}

function isCodeReaderMaker(found: unknown): found is CodeReaderMaker {
  return typeof found === "function";
}
