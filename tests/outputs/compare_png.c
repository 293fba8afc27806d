/*
 * Compares two pictures of the same drawing, made by different programs.
 *
 *     compare_png FIRST SECOND [TOLERANCE [DOTS]]    status 0 alike, 1 not alike, 2 unreadable
 *     compare_png --dpi FILE                          prints the dots per inch a PNG claims
 *
 * Two programs soften an edge differently, and may put it up to a pixel apart. So a value counts as
 * found when it lies, give or take TOLERANCE, between the lightest and the darkest of the nine
 * pixels about its place in the other picture; the question is asked both ways, so that neither
 * picture may have ink that the other lacks. Pictures are alike when no square of 24 by 24 pixels
 * has more than DOTS beyond the tolerance: one symbol that is missing fills a square, and counts as
 * much on a poster as on a small swatch. Prints the largest difference left, and the share of
 * pixels beyond the tolerance.
 */
#include <png.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CHANNELS 3
#define SQUARE 24

typedef struct {
	png_image image;
	png_byte *pixels;
} picture;

static int read_picture(picture *p, const char *path)
{
	static const png_color PAPER = {255, 255, 255};

	memset(p, 0, sizeof(*p));
	p->image.version = PNG_IMAGE_VERSION;
	if (!png_image_begin_read_from_file(&p->image, path)) {
		fprintf(stderr, "%s: %s\n", path, p->image.message);
		return 0;
	}
	p->image.format = PNG_FORMAT_RGB;
	p->pixels = malloc(PNG_IMAGE_SIZE(p->image));
	if (p->pixels == NULL || !png_image_finish_read(&p->image, &PAPER, p->pixels, 0, NULL)) {
		fprintf(stderr, "%s: %s\n", path, p->image.message);
		return 0;
	}
	return 1;
}

static int value_at(const picture *p, long x, long y, int channel)
{
	return p->pixels[((size_t)y * p->image.width + (size_t)x) * CHANNELS + (size_t)channel];
}

/* How far a value of one picture lies outside what is about its place in the other. */
static int find_distance(const picture *one, const picture *other, long x, long y, int channel,
	long width, long height)
{
	int value = value_at(one, x, y, channel), low = 255, high = 0;

	for (long v = y > 0 ? y - 1 : 0; v <= y + 1 && v < height; v++) {
		for (long u = x > 0 ? x - 1 : 0; u <= x + 1 && u < width; u++) {
			int near = value_at(other, u, v, channel);
			low = near < low ? near : low;
			high = near > high ? near : high;
		}
	}
	return value < low ? low - value : value > high ? value - high : 0;
}

static int compare(const picture *a, const picture *b, int tolerance, unsigned dots)
{
	long dx = labs((long)a->image.width - (long)b->image.width);
	long dy = labs((long)a->image.height - (long)b->image.height);
	long width = a->image.width < b->image.width ? a->image.width : b->image.width;
	long height = a->image.height < b->image.height ? a->image.height : b->image.height;
	long beyond = 0;
	int largest = 0;
	unsigned most = 0;

	/* A page of 8.3 dots is 8 to one program and 9 to another. */
	if (dx > 1 || dy > 1) {
		printf("sizes differ: %u x %u, %u x %u\n", a->image.width, a->image.height, b->image.width,
			b->image.height);
		return 1;
	}
	long across = width / SQUARE + 1;
	unsigned *squares = calloc((size_t)(across * (height / SQUARE + 1)), sizeof(*squares));
	if (squares == NULL)
		return 2;
	for (long y = 0; y < height; y++) {
		for (long x = 0; x < width; x++) {
			int worst = 0;
			for (int c = 0; c < CHANNELS; c++) {
				int there = find_distance(a, b, x, y, c, width, height);
				int back = find_distance(b, a, x, y, c, width, height);
				worst = there > worst ? there : worst;
				worst = back > worst ? back : worst;
			}
			largest = worst > largest ? worst : largest;
			if (worst <= tolerance)
				continue;
			unsigned in_square = ++squares[y / SQUARE * across + x / SQUARE];
			most = in_square > most ? in_square : most;
			beyond++;
		}
	}
	double part = (double)beyond / ((double)width * (double)height);
	printf("largest difference %d of 255, %ld pixels (%.2g of all, %u in one place) beyond %d\n",
		largest, beyond, part, most, tolerance);
	free(squares);
	return most > dots;
}

static int print_dpi(const char *path)
{
	FILE *file = fopen(path, "rb");
	png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
	png_infop info = png == NULL ? NULL : png_create_info_struct(png);
	png_uint_32 across = 0, down = 0;
	int unit = 0;

	if (file == NULL || info == NULL)
		return 2;
	if (setjmp(png_jmpbuf(png)) != 0)
		return 2;
	png_init_io(png, file);
	png_read_info(png, info);
	if (!png_get_pHYs(png, info, &across, &down, &unit) || unit != PNG_RESOLUTION_METER ||
		across != down)
		return 1;
	printf("%.2f\n", across * 0.0254);
	png_destroy_read_struct(&png, &info, NULL);
	fclose(file);
	return 0;
}

int main(int argc, char **argv)
{
	picture a, b;

	if (argc == 3 && strcmp(argv[1], "--dpi") == 0)
		return print_dpi(argv[2]);
	if (argc < 3) {
		fprintf(stderr, "usage: compare_png FIRST SECOND [TOLERANCE [DOTS]]\n");
		return 2;
	}
	if (!read_picture(&a, argv[1]) || !read_picture(&b, argv[2]))
		return 2;
	int tolerance = argc > 3 ? atoi(argv[3]) : 0;
	int status = compare(&a, &b, tolerance, argc > 4 ? (unsigned)atoi(argv[4]) : 0);
	free(a.pixels);
	free(b.pixels);
	return status;
}
