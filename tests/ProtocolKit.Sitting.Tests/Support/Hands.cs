using Microsoft.Playwright;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>A way to work the page: nothing but what the person at it could do.</summary>
internal abstract class Hand(IPage page)
{
    protected IPage Page { get; } = page;

    public abstract Task PressAsync(ILocator control);

    public abstract Task TypeAsync(ILocator field, string text);

    public abstract Task SelectAsync(ILocator select, string value);
}

internal sealed class Mouse(IPage page) : Hand(page)
{
    public override Task PressAsync(ILocator control) => control.ClickAsync();

    public override async Task TypeAsync(ILocator field, string text)
    {
        await field.ClickAsync();
        await Page.Keyboard.PressAsync("Control+a");
        await Page.Keyboard.TypeAsync(text);
    }

    public override Task SelectAsync(ILocator select, string value) => select.SelectOptionAsync(value);
}

internal sealed class Finger(IPage page) : Hand(page)
{
    public override Task PressAsync(ILocator control) => control.TapAsync();

    public override async Task TypeAsync(ILocator field, string text)
    {
        await field.TapAsync();
        await Page.Keyboard.PressAsync("Control+a");
        await Page.Keyboard.InsertTextAsync(text);
    }

    public override Task SelectAsync(ILocator select, string value) => select.SelectOptionAsync(value);
}

/// <summary>Tab, arrows, space and letters; focus is never set by other means.</summary>
internal sealed class Keys(IPage page) : Hand(page)
{
    private const int Most = 400;

    public override async Task PressAsync(ILocator control)
    {
        await ReachAsync(control);
        var isRadio = await control.EvaluateAsync<bool>("e => e.type === 'radio'");
        for (var i = 0; isRadio && i < Most && !await IsFocusedAsync(control); i++)
        {
            await Page.Keyboard.PressAsync("ArrowDown");
        }

        if (!isRadio || !await control.IsCheckedAsync())
        {
            await Page.Keyboard.PressAsync("Space");
        }
    }

    public override async Task TypeAsync(ILocator field, string text)
    {
        await ReachAsync(field);
        await Page.Keyboard.PressAsync("Control+a");
        await Page.Keyboard.TypeAsync(text);
    }

    public override async Task SelectAsync(ILocator select, string value)
    {
        await ReachAsync(select);
        for (var i = 0; i < Most && await select.InputValueAsync() != value; i++)
        {
            await Page.Keyboard.PressAsync("ArrowDown");
        }

        Assert.Equal(value, await select.InputValueAsync());
    }

    /// <summary>Tab until the control has the focus, or another radio of its group.</summary>
    private async Task ReachAsync(ILocator control)
    {
        for (var i = 0; i < Most; i++)
        {
            if (await IsFocusedAsync(control, orItsGroup: true))
            {
                return;
            }

            await Page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"The keyboard can't reach {control}.");
    }

    private static Task<bool> IsFocusedAsync(ILocator control, bool orItsGroup = false) =>
        control.EvaluateAsync<bool>(
            "(e, group) => e === document.activeElement || (group && e.type === 'radio' && document.activeElement?.name === e.name)",
            orItsGroup
        );
}
