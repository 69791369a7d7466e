import { takePhoto } from "@/app/_photos/take-photo";

interface PhotosRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

export async function POST(request: Request, { params }: PhotosRoute): Promise<Response> {
  const { reference } = await params;
  const page = `/dealer/returns/${encodeURIComponent(reference)}`;
  return takePhoto(request, reference, (view, leg) => {
    if (view.startsWith("told-")) return `${page}#told-photos`;
    if (view === "proof-of-sale") return `${page}#proof`;
    return `${page}#${leg === "unit-to-maker" ? "packing-unit" : "packing"}`;
  });
}
