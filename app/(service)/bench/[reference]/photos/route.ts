import { takePhoto } from "@/app/_photos/take-photo";

interface PhotosRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

export async function POST(request: Request, { params }: PhotosRoute): Promise<Response> {
  const { reference } = await params;
  return takePhoto(request, reference, `/bench/${encodeURIComponent(reference)}/receiving#photographs`);
}
