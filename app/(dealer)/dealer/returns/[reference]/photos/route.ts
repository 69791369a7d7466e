import { takePhoto } from "@/app/_photos/take-photo";

interface PhotosRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

export async function POST(request: Request, { params }: PhotosRoute): Promise<Response> {
  const { reference } = await params;
  const page = `/dealer/returns/${encodeURIComponent(reference)}`;
  return takePhoto(request, reference, (view) => {
    if (view.startsWith("told-")) return `${page}#told-photos`;
    return `${page}#${view === "proof-of-sale" ? "proof" : "packing"}`;
  });
}
